using System.Collections.Concurrent;
using SchoolDrills.Api.Attempts;

namespace SchoolDrills.Api.Progress;

/// <summary>
/// What was concluded from the newest attempts of each student, kept while these are as they were: after a change the database gives the
/// student another <see cref="StudentSummary.State"/>, and whoever asks next concludes anew, for the students that changed alone.
/// </summary>
internal sealed class Concluded<T>
{
    private readonly ConcurrentDictionary<Guid, (Guid State, string By, T What)> kept = new();

    /// <param name="states">Of every student asked about, as read before any attempt.</param>
    /// <param name="by">What else it depends on.</param>
    /// <param name="concludeAsync">Concludes for some of the students.</param>
    public async Task<IReadOnlyDictionary<Guid, T>> OfAsync(
        IReadOnlyDictionary<Guid, Guid> states,
        string by,
        Func<List<Guid>, Task<IReadOnlyDictionary<Guid, T>>> concludeAsync
    )
    {
        var all = new Dictionary<Guid, T>(states.Count);
        var changed = new List<Guid>();
        foreach (var (student, state) in states)
        {
            if (kept.TryGetValue(student, out var one) && one.State == state && one.By == by)
                all[student] = one.What;
            else
                changed.Add(student);
        }

        if (changed.Count == 0)
            return all;
        foreach (var (student, what) in await concludeAsync(changed))
        {
            kept[student] = (states[student], by, what);
            all[student] = what;
        }

        return all;
    }
}
