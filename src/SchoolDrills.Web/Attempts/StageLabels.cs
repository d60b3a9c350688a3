namespace SchoolDrills.Web.Attempts;

/// <summary>What the worker is doing, in words.</summary>
internal static class StageLabels
{
    public static string Of(string stage) =>
        stage switch
        {
            "reading" => "Reading the recording",
            "cleaning" => "Setting jumps and gaps aside",
            "reconstructing" => "Solving wind, heading and rates",
            "aligning" => "Finding the drill in the flight",
            "judging" => "Measuring against the standard",
            _ => "Scoring",
        };
}
