using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Areas;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Notes;
using SchoolDrills.Api.Notices;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Rescoring;
using SchoolDrills.Api.Schools;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Api.Uploads;

namespace SchoolDrills.Api;

/// <summary>
/// Everything that is kept. Each entity stands with its configuration in its feature's folder; row-level security decides which rows a
/// viewer sees.
/// </summary>
internal class SchoolDrillsDbContext : DbContext
{
    public SchoolDrillsDbContext(DbContextOptions<SchoolDrillsDbContext> options)
        : base(options) { }

    /// <summary>For a context of the same model that connects as another role.</summary>
    protected SchoolDrillsDbContext(DbContextOptions options)
        : base(options) { }

    public DbSet<School> Schools => Set<School>();

    public DbSet<Person> People => Set<Person>();

    public DbSet<DrillVersion> DrillVersions => Set<DrillVersion>();

    public DbSet<StandardRow> Standards => Set<StandardRow>();

    public DbSet<AircraftRow> Aircraft => Set<AircraftRow>();

    public DbSet<PracticeAreaRow> PracticeAreas => Set<PracticeAreaRow>();

    public DbSet<Assignment> Assignments => Set<Assignment>();

    public DbSet<AssignmentPlanRow> AssignmentPlans => Set<AssignmentPlanRow>();

    public DbSet<Attempt> Attempts => Set<Attempt>();

    public DbSet<AttemptEventRow> AttemptEvents => Set<AttemptEventRow>();

    public DbSet<FlightLog> FlightLogs => Set<FlightLog>();

    public DbSet<AttemptCorrection> AttemptCorrections => Set<AttemptCorrection>();

    public DbSet<LoadRatingRow> LoadRatings => Set<LoadRatingRow>();

    public DbSet<SelfAssessment> SelfAssessments => Set<SelfAssessment>();

    public DbSet<PendingTrack> PendingTracks => Set<PendingTrack>();

    public DbSet<TrackFile> TrackFiles => Set<TrackFile>();

    public DbSet<ColumnMappingRow> ColumnMappings => Set<ColumnMappingRow>();

    public DbSet<ScoreReportRow> ScoreReports => Set<ScoreReportRow>();

    public DbSet<TrackPlot> TrackPlots => Set<TrackPlot>();

    public DbSet<DrillExample> DrillExamples => Set<DrillExample>();

    public DbSet<SegmentResult> SegmentResults => Set<SegmentResult>();

    public DbSet<DayTally> DayTallies => Set<DayTally>();

    public DbSet<StudentTally> StudentTallies => Set<StudentTally>();

    public DbSet<StudentSummary> StudentSummaries => Set<StudentSummary>();

    public DbSet<Grade> Grades => Set<Grade>();

    public DbSet<GradeAcknowledgement> GradeAcknowledgements => Set<GradeAcknowledgement>();

    public DbSet<StudentNoteRow> StudentNotes => Set<StudentNoteRow>();

    public DbSet<Notice> Notices => Set<Notice>();

    public DbSet<RescoringRow> Rescorings => Set<RescoringRow>();

    public DbSet<RescoringItemRow> RescoringItems => Set<RescoringItemRow>();

    public DbSet<ScoringClaimRow> ScoringClaims => Set<ScoringClaimRow>();

    public DbSet<AuditEntry> AuditEntries => Set<AuditEntry>();

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder) =>
        configurationBuilder.Conventions.Add(_ => new SnakeCaseNames());

    protected override void OnModelCreating(ModelBuilder modelBuilder) =>
        modelBuilder
            .ApplyConfigurationsFromAssembly(typeof(SchoolDrillsDbContext).Assembly)
            .Entity<DataProtectionKey>()
            .ToTable("data_protection_keys");
}
