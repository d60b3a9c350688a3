using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class FlownEntryTests
{
    /// <summary>Begun on 045 at 3,700 feet, recorded by satellites alone on days of any temperature and pressure.</summary>
    [Fact]
    public void An_entry_on_045_is_told_as_045_and_its_altitude_with_an_honest_sigma()
    {
        var off = Enumerable
            .Range(1, 8)
            .Select(seed =>
            {
                var lesson = new Lesson(seed, skill: 0.9, headingDeg: 45, altitudeFt: 3700).Straight(60).Drill("box-circles").Straight(30);
                var report = lesson.Report("box-circles");
                Assert.Equal(45, report.Entry!.HeadingMagDeg);
                return Math.Abs(report.Entry.AltitudeFt - 3700) / report.EntryAltitudeSigmaFt!.Value;
            })
            .Order()
            .ToArray();
        // Of a normal error half are within 0.7 sigma and one in a hundred is beyond 2.6.
        Assert.InRange(off[off.Length / 2], 0, 1.3);
        Assert.InRange(off[^1], 0, 2.6);
    }
}
