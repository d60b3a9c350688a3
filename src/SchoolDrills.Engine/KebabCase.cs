using System.Text.Json;
using System.Text.Json.Serialization;

namespace SchoolDrills.Engine;

/// <summary>Writes enum members on the wire as the contract has them: lower case with hyphens (<c>level-straight</c>).</summary>
/// <typeparam name="T">The enum.</typeparam>
public sealed class KebabCase<T>() : JsonStringEnumConverter<T>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false)
    where T : struct, Enum;

/// <summary>The same for sentences.</summary>
public static class KebabCase
{
    /// <summary>A member as the wire has it.</summary>
    public static string Of(Enum member) => JsonNamingPolicy.KebabCaseLower.ConvertName(member.ToString());
}
