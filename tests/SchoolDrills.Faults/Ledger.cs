using System.Collections.Concurrent;

namespace SchoolDrills.Faults;

/// <summary>An upload that was accepted.</summary>
internal sealed record Accepted(int Number, Guid AttemptId, string Sha256, Student By);

/// <summary>What the senders saw.</summary>
internal sealed class Ledger
{
    private readonly ConcurrentDictionary<string, int> refused = new();
    private int broken;
    private int begun;
    private int again;

    /// <summary>Where both of two that were sent at once were accepted, both are here.</summary>
    public ConcurrentBag<Accepted> Accepted { get; } = [];

    public ConcurrentBag<int> GivenUp { get; } = [];

    /// <summary>Refusals that do not say what to do, in full.</summary>
    public ConcurrentBag<string> Unclear { get; } = [];

    public IReadOnlyDictionary<string, int> Refused => refused;

    /// <summary>Connections that were refused or broke off without an answer.</summary>
    public int Broken => broken;

    public int Begun => begun;

    /// <summary>Requests beyond the first for an upload, whoever sent them: the client by itself, or the sender after it gave up.</summary>
    public int Again => again;

    public int Begin() => Interlocked.Increment(ref begun) - 1;

    public void Refuse(string status) => refused.AddOrUpdate(status, 1, (_, n) => n + 1);

    public void Break() => Interlocked.Increment(ref broken);

    public void SendAgain() => Interlocked.Increment(ref again);
}
