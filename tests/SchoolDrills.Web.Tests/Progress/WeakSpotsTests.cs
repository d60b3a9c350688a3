using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Progress;
using static SchoolDrills.Web.Tests.SampleSchool;

namespace SchoolDrills.Web.Tests.Progress;

public sealed class WeakSpotsTests
{
    [Fact]
    public void A_kind_of_segment_that_failed_twice_is_named_with_its_count()
    {
        var spot = Assert.Single(WeakSpots.Of([Attempt(id: Guid.NewGuid()), Attempt(id: Guid.NewGuid(), hoursAgo: 30)]));
        Assert.Equal((SegmentKind.ClimbTurn, 2, 2, 1), (spot.Kind, spot.NotMet, spot.Measured, spot.SegmentIndex));
    }

    [Fact]
    public void One_failure_is_no_pattern() => Assert.Empty(WeakSpots.Of([Attempt()]));
}
