using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace SchoolDrills.Api.Data;

internal static class JsonColumn
{
    /// <summary>Keeps a value as <c>jsonb</c> in its wire form. The value is replaced as a whole, never changed in place.</summary>
    public static PropertyBuilder<T> HasJson<T>(this PropertyBuilder<T> property, JsonTypeInfo<T> type) =>
        property
            .HasColumnType("jsonb")
            .HasConversion(
                value => JsonSerializer.Serialize(value, type),
                text => JsonSerializer.Deserialize(text, type)!,
                new ValueComparer<T>(
                    (a, b) => ReferenceEquals(a, b) || JsonSerializer.Serialize(a!, type) == JsonSerializer.Serialize(b!, type),
                    value => JsonSerializer.Serialize(value, type).GetHashCode(StringComparison.Ordinal),
                    value => value
                )
            );
}
