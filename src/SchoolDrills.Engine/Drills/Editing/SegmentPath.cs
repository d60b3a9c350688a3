using System.Globalization;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>
/// Where a segment stands in a template, as in the JSON: <c>segments[2]</c>, inside a group <c>segments[2].segments[0]</c>.
/// </summary>
public static class SegmentPath
{
    private const string Member = "segments";

    /// <summary>The path of the segment at an index of a list.</summary>
    /// <param name="list">Path of the list: <c>segments</c>, or that of a group's segments.</param>
    /// <param name="index">Position in it, from 0.</param>
    public static string Of(string list, int index) => string.Create(CultureInfo.InvariantCulture, $"{list}[{index}]");

    /// <summary>The path of the list inside a group.</summary>
    /// <param name="path">The group.</param>
    public static string Inside(string path) => $"{path}.{Member}";

    /// <summary>The number a person reads: 3, inside a group 3.1.</summary>
    /// <param name="path">The segment.</param>
    public static string Number(string path) => string.Join('.', Indexes(path).Select(i => (i + 1).ToString(CultureInfo.InvariantCulture)));

    /// <summary>The list a segment stands in.</summary>
    /// <param name="path">The segment.</param>
    public static string List(string path) => path[..path.LastIndexOf('[')];

    /// <summary>The group a segment stands in; null at the top.</summary>
    /// <param name="path">The segment.</param>
    public static string? Group(string path) =>
        path.LastIndexOf(".segments", StringComparison.Ordinal) is > 0 and var at ? path[..at] : null;

    /// <summary>The segment's position in its list, from 0.</summary>
    /// <param name="path">The segment.</param>
    public static int Index(string path) => Indexes(path)[^1];

    /// <summary>The positions from the outermost list to the segment.</summary>
    internal static int[] Indexes(string path) =>
        [
            .. path.Split('.')
                .Where(part => part.StartsWith(Member, StringComparison.Ordinal) && part.EndsWith(']'))
                .Select(part => int.Parse(part.AsSpan(Member.Length + 1, part.Length - Member.Length - 2), CultureInfo.InvariantCulture)),
        ];

    /// <summary>The path through positions.</summary>
    internal static string Of(IEnumerable<int> indexes) => string.Join('.', indexes.Select(i => Of(Member, i)));
}
