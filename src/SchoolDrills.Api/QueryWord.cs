using System.Diagnostics.CodeAnalysis;
using System.Text.Json;

namespace SchoolDrills.Api;

/// <summary>
/// An enum in a query, written as in JSON (<c>not-met</c>); by itself the framework would take the name it has in the program, or its
/// number.
/// </summary>
internal readonly record struct QueryWord<T>(T Value)
    where T : struct, Enum
{
    private static readonly Dictionary<string, T> Values = Enum.GetValues<T>()
        .ToDictionary(value => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString()));

    /// <summary>As they stand on the wire.</summary>
    public static IReadOnlyCollection<string> Words => Values.Keys;

    public static bool TryParse([NotNullWhen(true)] string? text, out QueryWord<T> word)
    {
        var isKnown = Values.TryGetValue(text ?? "", out var value);
        word = new QueryWord<T>(value);
        return isKnown;
    }
}

/// <summary>The words a parameter takes, for the reference; what else comes is refused by the endpoint, in a sentence of its own.</summary>
[AttributeUsage(AttributeTargets.Parameter)]
internal sealed class WordsAttribute(params string[] words) : Attribute
{
    public IReadOnlyList<string> Words { get; } = words;
}
