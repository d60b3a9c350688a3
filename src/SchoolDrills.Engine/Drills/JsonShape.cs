using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace SchoolDrills.Engine.Drills;

/// <summary>Compares JSON with the record it is read into, to report every mismatch by its path and not only the first.</summary>
internal static class JsonShape
{
    /// <summary>Most problems reported.</summary>
    private const int Most = 20;

    /// <summary>The mismatches, one sentence each; none when the JSON can be read as the type.</summary>
    public static IReadOnlyList<string> ProblemsOf(JsonElement element, JsonTypeInfo type)
    {
        var problems = new List<string>();
        Compare(element, type, "", problems);
        return problems.Count > Most
            ? [.. problems.Take(Most), $"and {(problems.Count - Most).ToString(CultureInfo.InvariantCulture)} more"]
            : problems;
    }

    private static void Compare(JsonElement element, JsonTypeInfo type, string path, List<string> problems)
    {
        switch (type.Kind)
        {
            case JsonTypeInfoKind.Object when element.ValueKind == JsonValueKind.Object:
                CompareMembers(element, type, path, problems);
                break;
            case JsonTypeInfoKind.Enumerable when element.ValueKind == JsonValueKind.Array:
                var elementType = type.Options.GetTypeInfo(type.ElementType!);
                var index = 0;
                foreach (var item in element.EnumerateArray())
                    Compare(item, elementType, string.Create(CultureInfo.InvariantCulture, $"{path}[{index++}]"), problems);
                break;
            case JsonTypeInfoKind.Object or JsonTypeInfoKind.Enumerable:
                problems.Add(
                    $"{At(path)}: expected {(type.Kind == JsonTypeInfoKind.Object ? "an object" : "a list")}, found {Found(element)}."
                );
                break;
            default:
                CompareValue(element, Nullable.GetUnderlyingType(type.Type) ?? type.Type, path, problems);
                break;
        }
    }

    private static void CompareMembers(JsonElement element, JsonTypeInfo type, string path, List<string> problems)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var member in element.EnumerateObject())
        {
            var here = path.Length == 0 ? member.Name : $"{path}.{member.Name}";
            var property = type.Properties.FirstOrDefault(p => p.Name == member.Name);
            if (property is null)
                problems.Add($"{At(here)}: there is no such member here{Nearest(member.Name, type)}.");
            else if (!seen.Add(member.Name))
                problems.Add($"{At(here)}: is given twice.");
            else if (member.Value.ValueKind != JsonValueKind.Null)
                Compare(member.Value, type.Options.GetTypeInfo(property.PropertyType), here, problems);
            else if (!property.IsSetNullable)
                problems.Add($"{At(here)}: must not be null; leave it out or give a value.");
        }

        foreach (var property in type.Properties.Where(p => !seen.Contains(p.Name) && IsRequired(p)))
            problems.Add($"{At(path)}: lacks \"{property.Name}\".");
    }

    private static bool IsRequired(JsonPropertyInfo property) =>
        property.IsRequired || property.AssociatedParameter is { IsMemberInitializer: false, HasDefaultValue: false };

    private static void CompareValue(JsonElement element, Type type, string path, List<string> problems)
    {
        if (type == typeof(string))
        {
            if (element.ValueKind != JsonValueKind.String)
                problems.Add($"{At(path)}: expected text, found {Found(element)}.");
        }
        else if (type == typeof(bool))
        {
            if (element.ValueKind is not (JsonValueKind.True or JsonValueKind.False))
                problems.Add($"{At(path)}: expected true or false, found {Found(element)}.");
        }
        else if (type.IsEnum)
        {
            var names = Enum.GetNames(type).Select(JsonNamingPolicy.KebabCaseLower.ConvertName).ToArray();
            if (element.ValueKind != JsonValueKind.String || !names.Contains(element.GetString()))
                problems.Add($"{At(path)}: expected one of {string.Join(", ", names)}, found {Found(element)}.");
        }
        else if (element.ValueKind != JsonValueKind.Number || !element.TryGetDouble(out var number) || !double.IsFinite(number))
        {
            problems.Add($"{At(path)}: expected a number, found {Found(element)}.");
        }
        else if (type == typeof(int) && !element.TryGetInt32(out _))
        {
            problems.Add($"{At(path)}: expected a whole number, found {Found(element)}.");
        }
    }

    private static string At(string path) => path.Length == 0 ? "The template" : path;

    private static string Found(JsonElement element) =>
        element.ValueKind switch
        {
            JsonValueKind.Object => "an object",
            JsonValueKind.Array => "a list",
            JsonValueKind.Null => "null",
            _ => element.GetRawText() is { Length: > 40 } longText ? $"{longText[..40]}…" : element.GetRawText(),
        };

    /// <summary>The member that was probably meant, when only case or one letter is wrong.</summary>
    private static string Nearest(string name, JsonTypeInfo type)
    {
        var meant = type.Properties.FirstOrDefault(p =>
            p.Name.Equals(name, StringComparison.OrdinalIgnoreCase) || OneLetterApart(p.Name, name)
        );
        return meant is null ? "" : $"; \"{meant.Name}\" was perhaps meant";
    }

    private static bool OneLetterApart(string a, string b)
    {
        var (longer, shorter) = a.Length >= b.Length ? (a, b) : (b, a);
        if (longer.Length - shorter.Length > 1)
            return false;
        var same = shorter.Zip(longer).TakeWhile(pair => pair.First == pair.Second).Count();
        return longer.Length == shorter.Length
            ? longer.AsSpan(Math.Min(same + 1, longer.Length)).SequenceEqual(shorter.AsSpan(Math.Min(same + 1, shorter.Length)))
            : longer.AsSpan(same + 1).SequenceEqual(shorter.AsSpan(same));
    }
}
