using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.InFlight;

/// <summary>Logs as they are read: times set right, and how they were.</summary>
internal static class FlightLogViews
{
    /// <summary>In the order in which the flights were.</summary>
    public static async Task<IReadOnlyList<FlightLogView>> OfAsync(
        SchoolDrillsDbContext db,
        IQueryable<FlightLog> which,
        CancellationToken ct
    )
    {
        var logs = await which.AsNoTracking().Include(l => l.NotedBy).ToListAsync(ct);
        var drillStarts = new Dictionary<Guid, DateTimeOffset?>();
        foreach (var assignmentId in logs.Where(l => l.AttemptId is not null).Select(l => l.AssignmentId).Distinct())
        {
            foreach (var (attemptId, flight) in await FlightLogLinks.FlightsAsync(db, assignmentId, ct))
                drillStarts[attemptId] = flight.DrillStartUtc;
        }

        return
        [
            .. logs.Select(l => Of(l, l.AttemptId is { } attemptId ? drillStarts.GetValueOrDefault(attemptId) : null))
                .OrderBy(l => l.StartedAtUtc ?? l.ReceivedAtUtc)
                .ThenBy(l => l.Id),
        ];
    }

    private static FlightLogView Of(FlightLog log, DateTimeOffset? drillStart)
    {
        AttemptEvent[] events = [.. log.Events.Select(e => e with { AtUtc = log.Corrected(e.AtUtc) }).OrderBy(e => e.AtUtc)];
        var started = log.StartedAtUtc is { } at ? log.Corrected(at) : (DateTimeOffset?)null;
        var tapped = started ?? events.FirstOrDefault(e => e.Kind == EventKinds.ClockStart)?.AtUtc;
        return new FlightLogView(
            log.Id,
            log.AssignmentId,
            log.AttemptId,
            log.NotedById,
            log.NotedBy.DisplayName,
            started,
            log.EndedAtUtc is { } end ? log.Corrected(end) : null,
            log.ReceivedAtUtc,
            log.ClockAheadS,
            log.AheadS,
            log.ByHandS is not null ? ClockSource.ByHand
                : log.ClockAheadS is not null ? ClockSource.Measured
                : ClockSource.OnArrival,
            log.UnshiftedS,
            tapped is { } tap && drillStart is { } found ? (tap - found).TotalSeconds : null,
            events
        );
    }
}
