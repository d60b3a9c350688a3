using System.Text.Json;
using System.Text.Json.Serialization;

namespace SchoolDrills.Api;

/// <summary>Times leave the API in UTC with a <c>Z</c>, whatever offset they came with; the usual form would be <c>+00:00</c>.</summary>
internal sealed class UtcTimes : JsonConverter<DateTimeOffset>
{
    public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.GetDateTimeOffset();

    public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options) =>
        writer.WriteStringValue(value.UtcDateTime);
}
