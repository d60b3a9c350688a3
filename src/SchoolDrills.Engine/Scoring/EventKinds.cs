namespace SchoolDrills.Engine.Scoring;

/// <summary>Words for what is noted on board. Any other is kept and not judged.</summary>
public static class EventKinds
{
    /// <summary>The drill's clock is started; kept and shown, since the flight itself tells when the drill began.</summary>
    public const string ClockStart = "clock-start";

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

    /// <summary>The load is rated; the detail is a figure from 1 to 5.</summary>
    public const string LoadRating = "load-rating";

    /// <summary>Traffic is avoided from here on.</summary>
    public const string Traffic = "traffic";

    /// <summary>Clear of traffic: the drill is resumed.</summary>
    public const string TrafficClear = "traffic-clear";

    /// <summary>The instructor takes control.</summary>
    public const string TookControl = "took-control";

    /// <summary>The student has control again.</summary>
    public const string HandedBack = "handed-back";

    /// <summary>The instructor stops the drill.</summary>
    public const string Abort = "abort";

    /// <summary>Free words.</summary>
    public const string Note = "note";
}
