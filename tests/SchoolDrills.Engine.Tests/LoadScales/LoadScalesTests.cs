using SchoolDrills.Engine.LoadScales;
using Xunit;

namespace SchoolDrills.Engine.Tests.LoadScales;

/// <summary>Rules of the sources named in the code; figures by hand.</summary>
public class LoadScalesTests
{
    private static readonly TaskLoad Rated = new(80, 20, 70, 40, 60, 30);

    [Fact]
    public void The_raw_task_load_is_the_mean_of_six() =>
        // (80 + 20 + 70 + 40 + 60 + 30) / 6
        Assert.Equal(50, Rated.Raw(), 9);

    [Fact]
    public void The_weighted_one_counts_each_scale_as_often_as_it_was_picked()
    {
        Assert.Null(Rated.Weighted());
        // (5·80 + 0·20 + 4·70 + 1·40 + 3·60 + 2·30) / 15
        Assert.Equal(64, (Rated with { Weights = new TaskLoadWeights(5, 0, 4, 1, 3, 2) }).Weighted()!.Value, 9);
    }

    [Theory]
    [InlineData(5, 0, 4, 1, 3, 2, true)]
    [InlineData(3, 3, 3, 2, 2, 2, true)]
    // Fourteen and sixteen picks of fifteen pairs.
    [InlineData(5, 0, 4, 1, 3, 1, false)]
    [InlineData(5, 1, 4, 1, 3, 2, false)]
    // Two that were never picked, though one of them was against the other.
    [InlineData(5, 0, 5, 0, 3, 2, false)]
    [InlineData(6, 0, 4, 1, 2, 2, false)]
    [InlineData(5, -1, 5, 1, 3, 2, false)]
    public void Weights_are_what_fifteen_pairs_can_give(
        int mental,
        int physical,
        int temporal,
        int performance,
        int effort,
        int frustration,
        bool possible
    ) => Assert.Equal(possible, new TaskLoadWeights(mental, physical, temporal, performance, effort, frustration).Problem() is null);

    [Fact]
    public void A_rating_is_from_0_to_100()
    {
        Assert.Null(Rated.Problem());
        Assert.Null((Rated with { Mental = 0, Effort = 100 }).Problem());
        Assert.NotNull((Rated with { Performance = 101 }).Problem());
        Assert.NotNull((Rated with { Frustration = -1 }).Problem());
    }

    [Fact]
    public void Three_answers_lead_to_the_ratings_of_spare_capacity()
    {
        Assert.Equal([10], BedfordScale.Choices(false, null, null));
        Assert.Equal([7, 8, 9], BedfordScale.Choices(true, false, null));
        Assert.Equal([4, 5, 6], BedfordScale.Choices(true, true, false));
        Assert.Equal([1, 2, 3], BedfordScale.Choices(true, true, true));
        Assert.Empty(BedfordScale.Choices(true, null, true));
    }
}
