using System.Text.Json;
using System.Text.Json.Serialization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine;

/// <summary>
/// How the engine's documents are written and read as JSON, on the wire and in the database alike. Reading is strict: an unknown
/// member is an error, so that a misspelt field in a template is reported and not ignored.
/// </summary>
[JsonSourceGenerationOptions(
    JsonSerializerDefaults.Web,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    NumberHandling = JsonNumberHandling.Strict,
    RespectRequiredConstructorParameters = true,
    RespectNullableAnnotations = true
)]
[JsonSerializable(typeof(DrillTemplate))]
[JsonSerializable(typeof(IReadOnlyList<CallExample>))]
[JsonSerializable(typeof(DrillTimeline))]
[JsonSerializable(typeof(ToleranceStandard))]
[JsonSerializable(typeof(AircraftProfile))]
[JsonSerializable(typeof(DrillPlan))]
[JsonSerializable(typeof(PlanConditions))]
[JsonSerializable(typeof(ScoreReport))]
[JsonSerializable(typeof(TrackColumns))]
public sealed partial class EngineJson : JsonSerializerContext;
