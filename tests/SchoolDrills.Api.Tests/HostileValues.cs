using System.Text.Json.Nodes;

namespace SchoolDrills.Api.Tests;

/// <summary>What nobody means well with, in the place of a value.</summary>
internal static class HostileValues
{
    private static readonly string[] Texts =
    [
        "\0",
        "before\0after",
        "\u202Exig.exe",
        "\u2066\u2069\u200F",
        "\uD800",
        "\u0001\u001B[31m\u007F",
        "",
        " ",
        "'; drop table people; --",
        "%00%n%s",
        "../../../../etc/passwd",
        "<script>alert(1)</script>",
        "{}",
        "null",
        "-1",
        "99999999999999999999999999",
        "1e400",
        "NaN",
        "9999-12-31",
        "0001-01-01",
        "9999-12-31T23:59:59.9999999-14:00",
        "00000000-0000-0000-0000-000000000000",
        "\U0001F6E9\uFE0F",
        new('x', 20_000),
        string.Concat(Enumerable.Repeat("\U0001F6E9", 5_000)),
    ];

    /// <summary>JSON as it is sent: some of it no JSON writer would write.</summary>
    private static readonly string[] Others =
    [
        "null",
        "true",
        "-1",
        "0",
        "2147483648",
        "-9223372036854775809",
        "1e400",
        "-1e400",
        "1e-400",
        "0.1",
        "1.7976931348623157E308",
        "[]",
        "{}",
        "[null]",
        "[[[]]]",
        """{"a": {"b": [1, null, "c"]}}""",
        "\"\\uD800\"",
        "\"\\u0000\"",
        "\"0001-01-01T00:00:00+14:00\"",
        Deep(60),
        Deep(5_000),
        $"[{string.Join(',', Enumerable.Repeat("1", 5_000))}]",
    ];

    public static string Text(Random random) => Texts[random.Next(Texts.Length)];

    public static string Json(Random random) =>
        random.Next(2) == 0 ? Others[random.Next(Others.Length)] : JsonValue.Create(Text(random)).ToJsonString();

    private static string Deep(int levels) => new string('[', levels) + new string(']', levels);
}
