extern alias cockpit;

using System.Runtime.CompilerServices;
using System.Security;
using System.Xml.Linq;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Tests;

/// <summary>
/// <c>Strings.resx</c> holds what the pages say, for people to reread and translate; <c>SCHOOLDRILLS_WRITE_STRINGS=1</c> writes it anew
/// from the keys that the pages use. Remarks for a translator (<c>comment</c>) are kept.
/// </summary>
public sealed class StringsTests
{
    /// <summary>Where a key is put together: from what the test reads at the calls instead.</summary>
    private static readonly string[] PutTogether = ["SchoolDrills.Web.Layout.Figures.Count"];

    private static readonly IReadOnlyList<CompiledMethod> Methods =
    [
        .. CompiledCode.Of(typeof(Words).Assembly, "SchoolDrills.Web"),
        .. CompiledCode
            .Of(typeof(cockpit::SchoolDrills.Cockpit.Words).Assembly, "SchoolDrills.Cockpit")
            .Select(m => m with { Room = "Cockpit" }),
    ];

    private static readonly List<UsedKey> Used = [.. Methods.Where(m => !PutTogether.Contains(m.Name)).SelectMany(PageWords.Keys)];

    [Fact]
    public void Every_key_is_written_out() => Assert.Empty(Used.Where(k => k.Key is null).Select(k => k.Where).Distinct());

    [Fact]
    public void The_resource_has_what_the_pages_use_and_nothing_else()
    {
        if (Environment.GetEnvironmentVariable("SCHOOLDRILLS_WRITE_STRINGS") == "1")
            File.WriteAllText(Resource, Written());
        var kept = XDocument.Load(Resource).Root!.Elements("data").Select(d => d.Attribute("name")!.Value).ToList();
        Assert.True(
            kept.Order(StringComparer.Ordinal).SequenceEqual(Keys),
            $"Run with SCHOOLDRILLS_WRITE_STRINGS=1. Missing: {Listed(Keys.Except(kept))}. Unused: {Listed(kept.Except(Keys))}."
        );
        Assert.Equal(Written(), File.ReadAllText(Resource).ReplaceLineEndings("\n"));
    }

    [Fact]
    public void No_two_keys_differ_by_capitals_alone() =>
        Assert.Empty(Keys.GroupBy(k => k, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1).Select(g => string.Join(" / ", g)));

    [Fact]
    public void Each_text_has_a_place_for_every_value() =>
        Assert.Empty(
            Used.Where(k => k is { Key: not null, Values: not null } && PageWords.Places(k.Key) != k.Values)
                .Select(k => $"{k.Where}: \"{k.Key}\" is given {k.Values}")
        );

    [Fact]
    public void Pages_look_their_words_up()
    {
        var kept = Keys.ToHashSet(StringComparer.Ordinal);
        Assert.All(kept, k => Assert.False(Words.T[k].ResourceNotFound, k));
        Assert.All(kept, k => Assert.Equal(PageWords.TextOf(k), Words.T[k].Value));
    }

    [Fact]
    public void The_cockpit_shows_the_same_words_without_the_resource() =>
        Assert.All(Keys, k => Assert.Equal(PageWords.TextOf(k), cockpit::SchoolDrills.Cockpit.Words.T[k].Value));

    [Fact]
    public void No_page_has_words_of_its_own() => Assert.Empty(Methods.SelectMany(m => PageWords.Unkept(m).Select(t => $"{m.Name}: {t}")));

    [Fact]
    public void No_sentence_stands_in_the_code_of_a_page() =>
        Assert.Empty(Methods.SelectMany(m => PageWords.Sentences(m).Select(t => $"{m.Name}: {t}")));

    private static List<string> Keys =>
        [.. Used.Where(k => k.Key is not null).Select(k => k.Key!).Distinct().Order(StringComparer.Ordinal)];

    private static string Resource { get; } = Find();

    private static string Listed(IEnumerable<string> keys) => string.Join(", ", keys.Select(k => $"\"{k}\""));

    private static string Written()
    {
        var remarks = XDocument.Load(Resource).Root!.Elements("data").ToDictionary(Name, d => d.Element("comment")?.Value);
        var rooms = Used.Where(k => k.Key is not null)
            .GroupBy(k => k.Key!)
            .Select(g => (g.Key, Rooms: g.Select(k => k.Room).Distinct().ToList()))
            .Select(k => (k.Key, Room: k.Rooms.Count > 1 ? "several rooms" : k.Rooms[0]))
            .GroupBy(k => k.Room, k => k.Key)
            .OrderBy(g => g.Key, StringComparer.Ordinal);
        var lines = rooms.SelectMany(r =>
            r.Order(StringComparer.OrdinalIgnoreCase).Select(k => Line(k, remarks.GetValueOrDefault(k))).Prepend($"  <!-- {r.Key} -->")
        );
        return $"{Head}{string.Join("\n", lines)}\n</root>\n";

        static string Name(XElement data) => data.Attribute("name")!.Value;
    }

    private static string Line(string key, string? remark) =>
        $"  <data name=\"{SecurityElement.Escape(key)}\" xml:space=\"preserve\"><value>{Escaped(PageWords.TextOf(key))}</value>"
        + (remark is null ? "" : $"<comment>{Escaped(remark)}</comment>")
        + "</data>";

    private static string Escaped(string text) => new XText(text).ToString();

    private const string Head = """
        <?xml version="1.0" encoding="utf-8"?>
        <!-- What the pages say, written by StringsTests from the keys that they use. -->
        <root>
          <resheader name="resmimetype"><value>text/microsoft-resx</value></resheader>
          <resheader name="version"><value>2.0</value></resheader>
          <resheader name="reader"><value>System.Resources.ResXResourceReader, System.Windows.Forms</value></resheader>
          <resheader name="writer"><value>System.Resources.ResXResourceWriter, System.Windows.Forms</value></resheader>

        """;

    private static string Find([CallerFilePath] string file = "")
    {
        var folder = new DirectoryInfo(Path.GetDirectoryName(file)!);
        while (!File.Exists(Path.Combine(folder.FullName, "SchoolDrills.sln")))
            folder = folder.Parent ?? throw new InvalidOperationException($"SchoolDrills.sln is not above {file}.");
        return Path.Combine(folder.FullName, "src", "SchoolDrills.Web", "Strings.resx");
    }
}
