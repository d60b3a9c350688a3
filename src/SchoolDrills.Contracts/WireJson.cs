using System.Text.Json;
using System.Text.Json.Serialization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Contracts;

/// <summary>The one JSON form of everything that crosses HTTP.</summary>
[JsonSourceGenerationOptions(JsonSerializerDefaults.Web, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(SignIn))]
[JsonSerializable(typeof(FirstRun))]
[JsonSerializable(typeof(RefreshSession))]
[JsonSerializable(typeof(SessionTokens))]
[JsonSerializable(typeof(Me))]
[JsonSerializable(typeof(IReadOnlyList<PersonSummary>))]
[JsonSerializable(typeof(IReadOnlyList<SchoolChoice>))]
[JsonSerializable(typeof(SwitchSchool))]
[JsonSerializable(typeof(InvitePerson))]
[JsonSerializable(typeof(EditPerson))]
[JsonSerializable(typeof(PersonLink))]
[JsonSerializable(typeof(LinkToken))]
[JsonSerializable(typeof(LinkDetail))]
[JsonSerializable(typeof(AcceptLink))]
[JsonSerializable(typeof(ForgotPassword))]
[JsonSerializable(typeof(ChangePassword))]
[JsonSerializable(typeof(PasswordAgain))]
[JsonSerializable(typeof(ConfirmPassword))]
[JsonSerializable(typeof(AccountDetail))]
[JsonSerializable(typeof(IReadOnlyList<SessionSummary>))]
[JsonSerializable(typeof(IReadOnlyList<ApiTokenSummary>))]
[JsonSerializable(typeof(CreateApiToken))]
[JsonSerializable(typeof(ApiTokenMade))]
[JsonSerializable(typeof(SecondFactorKey))]
[JsonSerializable(typeof(SecondFactorCode))]
[JsonSerializable(typeof(RecoveryCodes))]
[JsonSerializable(typeof(AuditPage))]
[JsonSerializable(typeof(IAsyncEnumerable<AuditLine>))]
[JsonSerializable(typeof(IReadOnlyList<RecordEntry>))]
[JsonSerializable(typeof(IReadOnlyList<AuditChange>))]
[JsonSerializable(typeof(RecordSettings))]
[JsonSerializable(typeof(RecordsOverview))]
[JsonSerializable(typeof(SetLegalHold))]
[JsonSerializable(typeof(ErasePerson))]
[JsonSerializable(typeof(TrainingRecord))]
[JsonSerializable(typeof(IReadOnlyList<DrillSummary>))]
[JsonSerializable(typeof(DrillDetail))]
[JsonSerializable(typeof(DrillPicture))]
[JsonSerializable(typeof(CreateAssignment))]
[JsonSerializable(typeof(IReadOnlyList<AssignmentSummary>))]
[JsonSerializable(typeof(AttemptMeta))]
[JsonSerializable(typeof(AttemptAccepted))]
[JsonSerializable(typeof(AttemptColumns))]
[JsonSerializable(typeof(SetColumns))]
[JsonSerializable(typeof(IReadOnlyDictionary<string, ColumnChoice>))]
[JsonSerializable(typeof(AttemptDetail))]
[JsonSerializable(typeof(AttemptPage))]
[JsonSerializable(typeof(SaveGrade))]
[JsonSerializable(typeof(AmendGrade))]
[JsonSerializable(typeof(AcknowledgeGrade))]
[JsonSerializable(typeof(GradeView))]
[JsonSerializable(typeof(StudentProgress))]
[JsonSerializable(typeof(IReadOnlyList<WeakSegmentSummary>))]
[JsonSerializable(typeof(IReadOnlyList<NextDrillSuggestion>))]
[JsonSerializable(typeof(SchoolOverview))]
[JsonSerializable(typeof(GradingAgreement))]
[JsonSerializable(typeof(SchoolStages))]
[JsonSerializable(typeof(SchoolReadiness))]
[JsonSerializable(typeof(IReadOnlyList<TrainingStage>))]
[JsonSerializable(typeof(IAsyncEnumerable<AttemptResult>))]
[JsonSerializable(typeof(DrillTemplate))]
[JsonSerializable(typeof(DrillTimeline))]
[JsonSerializable(typeof(IReadOnlyList<ToleranceStandard>))]
[JsonSerializable(typeof(ScoreReport))]
[JsonSerializable(typeof(TrackColumns))]
[JsonSerializable(typeof(PutEvent))]
[JsonSerializable(typeof(PutLoadRating))]
[JsonSerializable(typeof(IReadOnlyList<RibbonSegment>))]
[JsonSerializable(typeof(ScoredPreview))]
[JsonSerializable(typeof(IReadOnlyList<SegmentGrade>))]
[JsonSerializable(typeof(IReadOnlyList<GradeWord>))]
[JsonSerializable(typeof(ManualCorrections))]
[JsonSerializable(typeof(PutBoundaries))]
[JsonSerializable(typeof(PutReading))]
[JsonSerializable(typeof(BoundariesView))]
[JsonSerializable(typeof(PutSelfAssessment))]
[JsonSerializable(typeof(IReadOnlyList<SelfVerdict>))]
[JsonSerializable(typeof(IReadOnlyList<int>))]
[JsonSerializable(typeof(SchoolSettings))]
[JsonSerializable(typeof(GradingSettings))]
[JsonSerializable(typeof(GradeStanding))]
[JsonSerializable(typeof(IReadOnlyList<PendingUpload>))]
[JsonSerializable(typeof(UploadCheck))]
[JsonSerializable(typeof(ClaimUpload))]
[JsonSerializable(typeof(AssignmentOverrides))]
[JsonSerializable(typeof(AssignmentSummary))]
[JsonSerializable(typeof(DrillSummary))]
[JsonSerializable(typeof(PlanDrill))]
[JsonSerializable(typeof(DrillPlanReply))]
[JsonSerializable(typeof(IReadOnlyList<AircraftProfile>))]
[JsonSerializable(typeof(ProblemBody))]
public sealed partial class WireJson : JsonSerializerContext;

/// <summary>Problem details (RFC 9457) as read by the client.</summary>
/// <param name="Columns">Of a CSV that could not be read: its columns, for a person to say what they are.</param>
public sealed record ProblemBody(
    string? Type,
    string? Title,
    string? Detail,
    int? Status,
    Dictionary<string, string[]>? Errors,
    IReadOnlyList<HeaderColumn>? Columns = null
);
