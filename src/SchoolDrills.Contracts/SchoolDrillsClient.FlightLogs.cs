namespace SchoolDrills.Contracts;

/// <summary>What was noted in the air.</summary>
public sealed partial class SchoolDrillsClient
{
    /// <summary>Sends a flight's log, whole; sent twice it is kept once.</summary>
    public Task<FlightLogView> PutFlightLogAsync(Guid assignmentId, Guid logId, PutFlightLog log, CancellationToken ct = default) =>
        SendAsync(
            HttpMethod.Put,
            $"assignments/{assignmentId}/flight-logs/{logId}",
            Body(log, Wire.PutFlightLog),
            Wire.FlightLogView,
            ct,
            repeatable: true
        );

    /// <summary>All logs of an assignment, those that wait for a recording too.</summary>
    public Task<IReadOnlyList<FlightLogView>> FlightLogsAsync(Guid assignmentId, CancellationToken ct = default) =>
        GetAsync($"assignments/{assignmentId}/flight-logs", Wire.IReadOnlyListFlightLogView, ct);

    /// <summary>The logs of an attempt.</summary>
    public Task<IReadOnlyList<FlightLogView>> AttemptFlightLogsAsync(Guid attemptId, CancellationToken ct = default) =>
        GetAsync($"attempts/{attemptId}/flight-logs", Wire.IReadOnlyListFlightLogView, ct);

    /// <summary>Says by how much the device's clock was ahead; null goes back to what was measured.</summary>
    public Task<FlightLogView> ShiftFlightLogAsync(Guid id, double? shiftS, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"flight-logs/{id}/shift", Body(new ShiftFlightLog(shiftS), Wire.ShiftFlightLog), Wire.FlightLogView, ct);
}
