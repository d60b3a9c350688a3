using System.Globalization;
using System.Net;
using System.Text;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Corrections;

/// <summary>A square of which a fifth side is flown: either four of the five may have been the drill.</summary>
public sealed class ReadingTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_instructor_chooses_the_other_reading_and_goes_back()
    {
        var attemptId = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var own = (await instructor.AttemptAsync(attemptId, Cancel)).Score!;
        Assert.Equal(2, own.Readings.Count);
        Assert.Equal(1, own.Readings.Sum(r => r.Weight), 0.02);

        await instructor.ChooseReadingAsync(attemptId, new PutReading(1, "The first side was flown to warm up."), Cancel);
        await app.ScoreAsync(attemptId);
        var chosen = await instructor.AttemptAsync(attemptId, Cancel);
        Assert.True(chosen.Score!.Runs.Single(r => r.Index == own.Readings[1].Run).Scored);
        Assert.NotEqual(own.Segments[1].StartUtc, chosen.Score.Segments[1].StartUtc);
        Assert.Equal("The first side was flown to warm up.", Assert.Single(chosen.Corrections).Reason);

        var engines = chosen.Score.Readings.Index().Single(r => r.Item.Run == own.Readings[0].Run).Index;
        await instructor.ChooseReadingAsync(attemptId, new PutReading(engines), Cancel);
        await app.ScoreAsync(attemptId);
        var back = await instructor.AttemptAsync(attemptId, Cancel);
        Assert.Equal(own.Segments[1].StartUtc, back.Score!.Segments[1].StartUtc);
        Assert.Null(back.EngineScore);
    }

    [Fact]
    public async Task A_reading_that_is_not_there_is_refused_with_those_that_are()
    {
        var attemptId = await FlownAsync();
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var refused = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => instructor.ChooseReadingAsync(attemptId, new PutReading(7), Cancel)
        );
        Assert.Equal("There is no reading 7: this flight's readings are 0 to 1.", refused.Message);
    }

    private async Task<Guid> FlownAsync()
    {
        var assignment = await app.AssignAsync("box-step-1-square");
        await using var track = new MemoryStream(Encoding.UTF8.GetBytes(SquareOfFive()));
        var student = await app.AsAsync(SchoolsFixture.Student);
        var attemptId = (await student.UploadAsync(assignment.Id, track, "square.csv", new AttemptMeta(), Cancel)).AttemptId;
        await app.ScoreAsync(attemptId);
        return attemptId;
    }

    /// <summary>Sides of a minute and turns at 3 degrees a second, once a second, at 90 kt in still air.</summary>
    private static string SquareOfFive()
    {
        const double DegPerS = 90 * 0.514444 / 111_195;
        var rows = new StringBuilder("time,lat,lon,altitude (ft)\n");
        var (latDeg, lonDeg, headingDeg, timeS) = (-43.6, 171.8, 0.0, 0);
        for (var side = 0; side < 6; side++)
        {
            Fly(60, 0);
            if (side < 5)
                Fly(30, 3);
        }

        Fly(140, 0);
        return rows.ToString();

        void Fly(int seconds, double degPerS)
        {
            for (var s = 0; s < seconds; s++)
            {
                headingDeg += degPerS;
                var (sin, cos) = Math.SinCos(headingDeg * Math.PI / 180);
                latDeg += DegPerS * cos;
                lonDeg += DegPerS * sin / Math.Cos(latDeg * Math.PI / 180);
                var at = new DateTimeOffset(2026, 3, 2, 1, 0, 0, TimeSpan.Zero).AddSeconds(timeS++);
                rows.Append(CultureInfo.InvariantCulture, $"{at:yyyy-MM-ddTHH:mm:ssZ},{latDeg:0.0000000},{lonDeg:0.0000000},3000\n");
            }
        }
    }
}
