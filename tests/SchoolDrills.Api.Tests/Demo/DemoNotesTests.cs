using System.IO.Compression;
using SchoolDrills.Api.Demo;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Api.Tests.Demo;

public sealed class DemoNotesTests
{
    private static readonly DemoCalendar Calendar = new(30);

    public static TheoryData<string, string> Noted =>
        [
            .. DemoWork
                .Flights.Where(f => DemoNotes.Of(f, Calendar) is not null)
                .Select(f => new TheoryDataRow<string, string>(f.Student, f.File)),
        ];

    [Theory]
    [MemberData(nameof(Noted))]
    public void Notes_lie_in_their_flight_and_are_told_of_its_drill(string student, string file)
    {
        var flight = DemoWork.Flights.Single(f => f.Student == student && f.File == file);
        var notes = DemoNotes.Of(flight, Calendar)!;
        Assert.Equal(notes.Count, notes.Select(n => n.Id).Distinct().Count());
        var drill = Catalogue.Templates.Single(t => t.Slug == flight.Drill);
        Assert.All(notes.Where(n => n.Kind == EventKinds.CheckDone), n => Assert.Contains(n.Detail, drill.Checks.Select(c => c.Name)));

        var resource = typeof(DemoNotes).Assembly.GetManifestResourceStream($"demo/{file}.gz")!;
        using var unpacked = new MemoryStream();
        using (var gzip = new GZipStream(resource, CompressionMode.Decompress))
            gzip.CopyTo(unpacked);
        var track = TrackReader
            .Read(new MemoryStream(Calendar.Moved(unpacked.ToArray())), ct: TestContext.Current.CancellationToken)
            .Track!;
        var options = new ScoringOptions
        {
            QnhHpa = flight.QnhHpa,
            Events = [.. notes.Select(n => new FlightEvent(n.Kind, n.AtUtc, n.Detail))],
        };
        var standard = Catalogue.Standards.Single(s => s.Slug == drill.StandardSlug);
        var report = AttemptScorer.Score(track, drill, standard, options, cancellation: TestContext.Current.CancellationToken).Report;

        Assert.True(report.Found);
        Assert.Equal(notes.Count(n => n.Kind == EventKinds.TaskGiven), report.Workload!.Tasks.Count);
        Assert.Equal(notes.Count(n => n.Kind == EventKinds.CheckDone), report.Workload.Checks.Count(c => c.DoneUtc is not null));
        Assert.DoesNotContain(report.Workload.Tasks, t => t.Outcome is LoadOutcome.Missed or LoadOutcome.NotNoted);
        TestContext.Current.TestOutputHelper!.WriteLine(
            $"{student} {file}: level {report.Workload.Level}, {report.Overall.WithinShare:0.00}, {report.Overall.Why} "
                + string.Join(", ", report.Workload.Checks.Select(c => c.Outcome))
        );
    }
}
