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

    /// <summary>The clock of the drill is started.</summary>
    public const string ClockStart = "clock-start";

    /// <summary>The student says how loaded he is; the detail is 1 to 5.</summary>
    public const string LoadRating = "load-rating";

    /// <summary>Traffic is seen or called.</summary>
    public const string Traffic = "traffic";

    /// <summary>The traffic is past.</summary>
    public const string TrafficClear = "traffic-clear";

    /// <summary>The instructor takes control.</summary>
    public const string TookControl = "took-control";

    /// <summary>The student has control again.</summary>
    public const string HandedBack = "handed-back";

    /// <summary>The drill is broken off.</summary>
    public const string Abort = "abort";

    /// <summary>Something to talk about; the detail is what was written.</summary>
    public const string Note = "note";
}
