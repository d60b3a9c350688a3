using System.Globalization;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>How loaded the student was, in the student's own word and in others': ratings entered, and ratings noted in flight.</summary>
internal static class SaidLoads
{
    /// <summary>All of them, by number; what was noted in flight is numbered on, in time.</summary>
    public static async Task<IReadOnlyList<SaidLoad>> OfAsync(SchoolDrillsDbContext db, Attempt attempt, CancellationToken ct)
    {
        var entered = await db
            .LoadRatings.AsNoTracking()
            .Where(r => r.AttemptId == attempt.Id)
            .Select(r => new SaidLoad(r.Number, r.Rating, r.SaidBy, null))
            .ToListAsync(ct);
        var noted = await db
            .AttemptEvents.AsNoTracking()
            .Where(e => e.AttemptId == attempt.Id && e.Kind == EventKinds.LoadRating)
            .OrderBy(e => e.AtUtc)
            .ToListAsync(ct);
        var last = entered.GroupBy(r => r.By).ToDictionary(g => g.Key, g => g.Max(r => r.Number));
        foreach (var e in noted)
        {
            if (!int.TryParse(e.Detail, NumberStyles.None, CultureInfo.InvariantCulture, out var rating) || rating is < 1 or > 5)
                continue;
            var by = e.NotedById == attempt.StudentId ? LoadSource.Student : LoadSource.Instructor;
            last[by] = last.GetValueOrDefault(by) + 1;
            entered.Add(new SaidLoad(last[by], rating, by, e.AtUtc));
        }

        return [.. entered.OrderBy(r => r.Number).ThenBy(r => r.By)];
    }

    /// <summary>The student's own where he gave any, else what others noted.</summary>
    public static IReadOnlyList<int> Own(IReadOnlyList<SaidLoad> said)
    {
        var by = said.Any(s => s.By == LoadSource.Student) ? LoadSource.Student : LoadSource.Instructor;
        return [.. said.Where(s => s.By == by).Select(s => s.Rating)];
    }
}
