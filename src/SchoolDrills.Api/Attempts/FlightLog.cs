using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.InFlight;

namespace SchoolDrills.Api.Attempts;

/// <summary>
/// What a device noted of one flight, by its own clock, as it last sent it. It belongs to an assignment, and to the attempt whose
/// recording it fits once there is one.
/// </summary>
internal sealed class FlightLog : IStudentWork, IAudited
{
    private static readonly string[] Audited = [nameof(ByHandS)];

    /// <summary>The number its device gave it.</summary>
    public required Guid Id { get; init; }

    public required Guid SchoolId { get; init; }

    public required Guid AssignmentId { get; init; }

    public required Guid StudentId { get; init; }

    public required Guid NotedById { get; init; }

    public Person NotedBy { get; private init; } = null!;

    public required DateTimeOffset ReceivedAtUtc { get; init; }

    public DateTimeOffset? StartedAtUtc { get; set; }

    public DateTimeOffset? EndedAtUtc { get; set; }

    /// <summary>By how much the clock was ahead as the device measured it before the flight, seconds.</summary>
    public double? ClockAheadS { get; set; }

    /// <summary>Time of sending by the device minus time of arrival, of the arrival that was delayed least, seconds.</summary>
    public required double SentMinusArrivedS { get; set; }

    /// <summary>By how much the clock was ahead in a person's word, seconds.</summary>
    public double? ByHandS { get; set; }

    public Guid? AttemptId { get; set; }

    public IReadOnlyList<AttemptEvent> Events { get; set; } = [];

    /// <summary>By how much the clock was ahead without a person's word.</summary>
    public double UnshiftedS => ClockAheadS ?? DeviceClock.AheadOnArrivalS(SentMinusArrivedS);

    public double AheadS => ByHandS ?? UnshiftedS;

    Guid IAudited.AuditSubjectId => AssignmentId;

    IReadOnlyList<string> IAudited.AuditedProperties => Audited;

    /// <summary>A time it noted, by the right clock.</summary>
    public DateTimeOffset Corrected(DateTimeOffset atUtc) => DeviceClock.Corrected(atUtc, AheadS);

    /// <summary>From when to when it was noted, by the right clock; null where nothing was.</summary>
    public NotedSpan? Span() =>
        NotedSpan.Of(
            new[] { StartedAtUtc, EndedAtUtc }
                .Concat(Events.Select(e => (DateTimeOffset?)e.AtUtc))
                .Select(t => t is { } at ? Corrected(at) : t)
        );

    private sealed class Configuration : IEntityTypeConfiguration<FlightLog>
    {
        public void Configure(EntityTypeBuilder<FlightLog> builder)
        {
            builder.ToTable("flight_logs");
            builder.Property(l => l.Id).ValueGeneratedNever();
            builder.HasOne<Attempt>().WithMany().HasForeignKey(l => l.AttemptId).OnDelete(DeleteBehavior.SetNull);
            builder.HasOne<Person>().WithMany().HasForeignKey(l => l.StudentId).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne(l => l.NotedBy).WithMany().HasForeignKey(l => l.NotedById).OnDelete(DeleteBehavior.Restrict);
            builder.Property(l => l.Events).HasJson(WireJson.Default.IReadOnlyListAttemptEvent);
            builder.Ignore(l => l.UnshiftedS);
            builder.Ignore(l => l.AheadS);
        }
    }
}
