using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Progress;

/// <summary>What a student is told of the others: counts, and only where they are enough to hide who they are.</summary>
public sealed class SchoolCountsTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Five_other_students_are_counted_and_four_are_not()
    {
        foreach (var number in Enumerable.Range(1, 5))
        {
            Assert.Equal(0, await CountsAsync(SchoolsFixture.Student));
            var name = $"counted-{number}";
            await app.NewcomerAsync(name, Roles.Student);
            var assignment = await app.AssignAsync("timed-turns", name);
            await app.ScoreAsync(await app.UploadAsync(assignment.Id, "f13.csv", student: name));
        }

        Assert.True(await CountsAsync(SchoolsFixture.Student) > 0);
        // One of the five has four others.
        Assert.Equal(0, await CountsAsync("counted-1"));
    }

    private Task<int> CountsAsync(string person)
    {
        var id = app.IdOf(person);
        return app.QueryAsync(db =>
            db.Database.SqlQuery<int>($"select count(*)::integer as \"Value\" from lookup.segment_counts(array[{id}])").SingleAsync(Cancel)
        );
    }
}
