namespace SchoolDrills.Engine.Scoring;

/// <summary>Words for what is noted on board. Any other is kept and not judged.</summary>
public static class EventKinds
{
    /// <summary>A check is done; the detail names it.</summary>
    public const string CheckDone = "check";

    /// <summary>A load task is given; the detail names it.</summary>
    public const string TaskGiven = "load-task";

    /// <summary>A load task is answered rightly; the detail names it, else it is the last one given.</summary>
    public const string TaskAnswered = "answered";

    /// <summary>A load task is answered wrongly.</summary>
    public const string TaskAnsweredWrong = "answered-wrong";

    /// <summary>Relief is used; the detail says which.</summary>
    public const string ReliefUsed = "relief";
}
