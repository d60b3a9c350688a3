using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class TemplateJsonTests
{
    private const string Short = """
        { "slug": "short", "title": "Short", "purpose": "To test.", "standardSlug": "instrument-rating",
          "entry": { "headingMagDeg": 360, "altitudeFt": 3000, "airspeedKt": 90 },
          "segments": [{ "durationS": 30 }] }
        """;

    public static TheoryData<string> Slugs => [.. Catalogue.Templates.Select(t => t.Slug)];

    private static string Problem(string from, string to) =>
        Assert.Single(TemplateJson.Read(Short.Replace(from, to, StringComparison.Ordinal)).Problems);

    [Theory]
    [MemberData(nameof(Slugs))]
    public void Written_and_read_again_a_template_is_the_same(string slug)
    {
        var json = JsonSerializer.Serialize(Catalogue.Templates.Single(t => t.Slug == slug), EngineJson.Default.DrillTemplate);
        var reading = TemplateJson.Read(json);

        Assert.Empty(reading.Problems);
        Assert.Equal(json, JsonSerializer.Serialize(reading.Template!, EngineJson.Default.DrillTemplate));
    }

    [Fact]
    public void An_omitted_member_takes_its_default()
    {
        var template = TemplateJson.Read(Short).Template!;

        Assert.Equal((1, 0), (template.SchemaVersion, template.Version));
        Assert.Empty(template.Checks);
        Assert.Equal("", template.Segments[0].Name);
        Assert.Empty(template.Segments[0].Tolerances);
        Assert.Empty(TemplateProblems.Of(template));
    }

    [Fact]
    public void A_standard_without_shares_takes_their_defaults()
    {
        var standard = JsonSerializer.Deserialize(
            """{ "slug": "s", "title": "S", "source": "School", "basis": "school", "tolerances": [] }""",
            EngineJson.Default.ToleranceStandard
        )!;

        Assert.Equal((0.9, 0.7, 8.0), (standard.RequiredShare, standard.CloseShare, standard.PromptCorrectionS));
    }

    [Fact]
    public void A_misspelt_member_is_reported_by_its_path_with_the_likely_name() =>
        Assert.Equal(
            "segments[0].durationsS: there is no such member here; \"durationS\" was perhaps meant.",
            Problem("durationS", "durationsS")
        );

    [Fact]
    public void A_member_in_the_wrong_case_is_no_member() =>
        Assert.Equal(
            "segments[0].DurationS: there is no such member here; \"durationS\" was perhaps meant.",
            Problem("durationS", "DurationS")
        );

    [Fact]
    public void A_number_in_quotes_is_reported_by_its_path() =>
        Assert.Equal("segments[0].durationS: expected a number, found \"30\".", Problem("\"durationS\": 30", "\"durationS\": \"30\""));

    [Fact]
    public void A_member_given_twice_is_refused() =>
        Assert.Equal(
            "segments[0].durationS: is given twice.",
            Problem("{ \"durationS\": 30 }", "{ \"durationS\": 30, \"durationS\": 60 }")
        );

    [Fact]
    public void A_missing_member_is_reported_with_its_place()
    {
        Assert.Equal("entry: lacks \"altitudeFt\".", Problem("\"altitudeFt\": 3000, ", ""));
        Assert.Equal("The template: lacks \"title\".", Problem("\"title\": \"Short\", ", ""));
    }

    [Fact]
    public void Null_where_a_value_belongs_is_refused() =>
        Assert.Equal("title: must not be null; leave it out or give a value.", Problem("\"Short\"", "null"));

    [Fact]
    public void A_kind_that_does_not_exist_is_answered_with_those_that_do() =>
        Assert.Equal(
            "checks[0].kind: expected one of flow, checklist, found \"Flow\".",
            Problem(
                "\"segments\"",
                "\"checks\": [{ \"name\": \"a\", \"kind\": \"Flow\", \"items\": [\"x\"], \"fromS\": 0, \"windowS\": 10 }], \"segments\""
            )
        );

    [Fact]
    public void All_mismatches_are_reported_at_once()
    {
        var reading = TemplateJson.Read("""{ "slug": 1, "entry": [], "segments": {}, "colour": "red" }""");

        Assert.Equal(7, reading.Problems.Count);
        Assert.Null(reading.Template);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("{ \"slug\": }")]
    public void Text_that_is_not_JSON_is_refused_with_line_and_column(string text) =>
        Assert.StartsWith("Line 1, column ", Assert.Single(TemplateJson.Read(text).Problems), StringComparison.Ordinal);

    [Fact]
    public void Null_among_the_segments_is_refused() =>
        Assert.Equal("segments[0]: expected an object, found null.", Problem("{ \"durationS\": 30 }", "null"));

    [Fact]
    public void A_list_for_a_template_is_refused() =>
        Assert.Equal("The template: expected an object, found a list.", Assert.Single(TemplateJson.Read("[]").Problems));

    [Fact]
    public void Text_without_end_is_refused_at_the_limit() =>
        Assert.Equal(
            "The template is longer than 1024 KiB.",
            Assert.Single(TemplateJson.Read(new string(' ', TemplateJson.LimitBytes + 1)).Problems)
        );

    [Theory]
    [InlineData("\"Short\"", "\"\\ud800\"")]
    [InlineData("\"title\"", "\"\\ud800\"")]
    [InlineData("\"title\"", "\"\\u0000\"")]
    [InlineData("30 }", "1e999 }")]
    [InlineData("30 }", "-0 }")]
    [InlineData("360,", "99999999999999999999999999,")]
    [InlineData("[{ \"durationS\": 30 }]", "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[")]
    public void Strange_text_is_refused_or_read_and_never_throws(string from, string to)
    {
        var reading = TemplateJson.Read(Short.Replace(from, to, StringComparison.Ordinal));

        Assert.True(reading.Template is null ? reading.Problems.Count > 0 : TemplateProblems.Of(reading.Template).Count > 0);
    }

    [Fact]
    public void Bytes_that_are_not_text_are_refused()
    {
        var bytes = System.Text.Encoding.UTF8.GetBytes(Short.Replace("Short", "Sh~rt", StringComparison.Ordinal));
        bytes[Array.IndexOf(bytes, (byte)'~')] = 0xC3;

        using var stream = new MemoryStream(bytes);
        Assert.Single(TemplateJson.Read(stream).Problems);
    }

    [Fact]
    public void A_catalogue_file_with_one_character_gone_is_read_or_refused()
    {
        var text = JsonSerializer.Serialize(Catalogue.Templates.Single(t => t.Slug == "box-circles"), EngineJson.Default.DrillTemplate);
        for (var i = 0; i < text.Length; i += 5)
        {
            var reading = TemplateJson.Read(text.Remove(i, 1));
            Assert.True(reading.Template is not null ^ reading.Problems.Count > 0);
        }
    }

    [Fact]
    public void The_published_schema_has_every_member_of_the_records_and_no_other()
    {
        var published = JsonNode.Parse(TemplateJson.Schema)!.AsObject();
        var fromRecord = JsonSchemaExporter
            .GetJsonSchemaAsNode(EngineJson.Default.Options, typeof(DrillTemplate), new() { TreatNullObliviousAsNonNullable = true })
            .AsObject();

        Agree(published, published, fromRecord, "template", []);
    }

    private static void Agree(JsonObject root, JsonObject published, JsonObject record, string path, HashSet<JsonObject> seen)
    {
        if (published["$ref"] is { } reference)
            published = root["$defs"]![reference.GetValue<string>().Split('/')[^1]]!.AsObject();
        if (record["$ref"] is not null || !seen.Add(published))
            return;
        if (record["properties"] is JsonObject members)
        {
            var there = published["properties"]!.AsObject();
            Assert.Equal(members.Select(m => m.Key).Order(), there.Select(m => m.Key).Order());
            Assert.Equal(Names(record["required"]), Names(published["required"]));
            Assert.False(published["additionalProperties"]!.GetValue<bool>());
            foreach (var (name, member) in members)
                Agree(root, there[name]!.AsObject(), member!.AsObject(), $"{path}.{name}", seen);
        }

        if (record["items"] is JsonObject items)
            Agree(root, published["items"]!.AsObject(), items, $"{path}[]", seen);
        if (record["enum"] is JsonArray names)
        {
            Assert.Equal(
                names.Select(n => n?.ToString()).Where(n => n is not null),
                published["enum"]!.AsArray().Select(n => n!.ToString())
            );
        }
        else if (published["type"] is { } type)
        {
            Assert.True(Types(record["type"]).SetEquals(Types(type)), $"{path}: {type} is not {record["type"]}");
        }
    }

    private static IEnumerable<string> Names(JsonNode? list) => (list?.AsArray() ?? []).Select(n => n!.GetValue<string>()).Order();

    private static HashSet<string> Types(JsonNode? type) =>
        type is JsonArray several ? [.. several.Select(t => t!.GetValue<string>())] : [type!.GetValue<string>()];
}
