namespace SchoolDrills.Web.Attempts;

/// <summary>What the worker is doing, in words.</summary>
internal static class StageLabels
{
    public static string Of(string stage) =>
        stage switch
        {
            "reading" => T["Reading the recording"],
            "cleaning" => T["Setting jumps and gaps aside"],
            "reconstructing" => T["Working out wind, heading and rates"],
            "aligning" => T["Finding the drill in the flight"],
            "judging" => T["Measuring against the standard"],
            _ => T["Scoring"],
        };
}
