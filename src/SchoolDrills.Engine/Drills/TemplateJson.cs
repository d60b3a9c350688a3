using System.Text.Json;

namespace SchoolDrills.Engine.Drills;

/// <summary>The result of reading a template: the template, or the problems of the text, one sentence each with its place.</summary>
/// <param name="Template">The template when the JSON is one; it may still have <see cref="TemplateProblems"/>.</param>
/// <param name="Problems">Empty when it was read.</param>
public sealed record TemplateReading(DrillTemplate? Template, IReadOnlyList<string> Problems);

/// <summary>
/// Reads drill templates strictly: unknown, repeated, missing or wrongly typed members are all reported at once, by their path.
/// </summary>
public static class TemplateJson
{
    /// <summary>Longest text read, bytes.</summary>
    public const int LimitBytes = 1 << 20;

    private static readonly JsonDocumentOptions Strict = new() { MaxDepth = 64 };

    /// <summary>JSON Schema (draft 2020-12) of a drill template, for editors and other programs.</summary>
    public static string Schema { get; } = ReadSchema();

    /// <summary>Reads a template from text.</summary>
    /// <param name="json">The JSON.</param>
    public static TemplateReading Read(string json)
    {
        using var stream = new MemoryStream(System.Text.Encoding.UTF8.GetBytes(json));
        return Read(stream);
    }

    /// <summary>Reads a template from a stream of UTF-8, at most <see cref="LimitBytes"/> of it.</summary>
    /// <param name="stream">The JSON.</param>
    public static TemplateReading Read(Stream stream)
    {
        if (ReadWhole(stream) is not { } text)
            return Refused($"The template is longer than {LimitBytes / 1024} KiB.");
        try
        {
            using var document = JsonDocument.Parse(text, Strict);
            var problems = JsonShape.ProblemsOf(document.RootElement, EngineJson.Default.DrillTemplate);
            return problems.Count > 0 ? new(null, problems) : new(document.RootElement.Deserialize(EngineJson.Default.DrillTemplate), []);
        }
        catch (InvalidOperationException)
        {
            return Refused("A text in the template holds half of a character (an escaped surrogate without its other half).");
        }
        catch (JsonException e)
        {
            return Refused(
                $"Line {(e.LineNumber ?? 0) + 1}, column {(e.BytePositionInLine ?? 0) + 1}: this is not "
                    + "well-formed JSON, or nested too deep."
            );
        }
    }

    /// <summary>The stream without a byte order mark; null where it is too long.</summary>
    private static ReadOnlyMemory<byte>? ReadWhole(Stream stream)
    {
        using var whole = new MemoryStream();
        var piece = new byte[8192];
        while (stream.Read(piece) is var length and > 0)
        {
            if (whole.Length + length > LimitBytes)
                return null;
            whole.Write(piece, 0, length);
        }

        ReadOnlyMemory<byte> text = whole.ToArray();
        return text.Span.StartsWith("\uFEFF"u8) ? text[3..] : text;
    }

    private static string ReadSchema()
    {
        using var stream = typeof(TemplateJson).Assembly.GetManifestResourceStream("drill-template.schema.json")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    private static TemplateReading Refused(string problem) => new(null, [problem]);
}
