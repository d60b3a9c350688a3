using System.Text.Json;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.Data;

internal static class WordColumn
{
    /// <summary>Keeps an enum as the word it has on the wire (<c>not-met</c>).</summary>
    public static PropertyBuilder<T> HasWord<T>(this PropertyBuilder<T> property)
        where T : struct, Enum => property.HasMaxLength(40).HasConversion(value => Word(value), text => Parse<T>(text));

    public static PropertyBuilder<T?> HasWord<T>(this PropertyBuilder<T?> property)
        where T : struct, Enum => property.HasMaxLength(40).HasConversion(value => Word(value!.Value), text => Parse<T>(text));

    public static string Word<T>(this T value)
        where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());

    /// <summary>The enum of a word, as raw SQL reads it.</summary>
    public static T Parse<T>(string word)
        where T : struct, Enum => Enum.Parse<T>(word.Replace("-", "", StringComparison.Ordinal), ignoreCase: true);
}
