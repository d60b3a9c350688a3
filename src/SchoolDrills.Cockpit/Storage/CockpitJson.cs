using System.Text.Json;
using System.Text.Json.Serialization;

namespace SchoolDrills.Cockpit.Storage;

/// <summary>The form of what is kept on the device.</summary>
[JsonSourceGenerationOptions(JsonSerializerDefaults.Web, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(StoredPerson))]
[JsonSerializable(typeof(StoredWork))]
[JsonSerializable(typeof(StoredFlight))]
[JsonSerializable(typeof(StoredLog))]
[JsonSerializable(typeof(StoredSending))]
[JsonSerializable(typeof(StoredMark))]
[JsonSerializable(typeof(CockpitSettings))]
[JsonSerializable(typeof(double?))]
internal sealed partial class CockpitJson : JsonSerializerContext;
