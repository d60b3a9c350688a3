namespace SchoolDrills.Contracts;

/// <summary>What a school sets for itself.</summary>
/// <param name="GradeScale">Its words, in their order. A word that grades use may be renamed or retired, not left out.</param>
public sealed record SchoolSettings(IReadOnlyList<GradeWord> GradeScale, GradingSettings Grading)
{
    /// <summary>Due days and reminders; where none are sent they stay as they are.</summary>
    public ReminderSettings? Reminders { get; init; }

    /// <summary>The school's name; where none is sent it stays as it is, as does the next.</summary>
    public string? Name { get; init; }

    /// <summary>IANA name of the school's time zone.</summary>
    public string? TimeZone { get; init; }

    /// <summary>Instructors may draft drills; publishing is the chief's. Where it is not sent it stays as it is.</summary>
    public bool? InstructorsDraft { get; init; }
}

/// <summary>When work falls due, and when people are told.</summary>
/// <param name="DueInDays">Days from today to the due day of a drill assigned in one go, 1 to 90.</param>
/// <param name="SoonDays">Days before the due day on which a student is reminded, 0 to 14.</param>
/// <param name="DigestHour">Hour of the day at the school, 0 to 23, from which the daily mail is sent.</param>
public sealed record ReminderSettings(int DueInDays = 7, int SoonDays = 2, int DigestHour = 7);

/// <summary>How a school grades.</summary>
/// <param name="QuickPhrases">Remarks ready to be put into a comment by their number, at most nine.</param>
/// <param name="SelfAssessmentFirst">Students say how it went before their page shows the score.</param>
/// <param name="SelfAssessmentSkippable">They may also decline to.</param>
/// <param name="SuggestGrades">Instructors are shown the word that fits the engine's verdict, and may take it over with one key.</param>
/// <param name="Suggestions">Which word that is; by their places in the scale where null.</param>
/// <param name="AskLoadInFlight">Devices on board ask for the load, 1 to 5, while the drill is flown.</param>
/// <param name="AskTaskLoad">The self-assessment asks for the NASA Task Load Index, six scales.</param>
/// <param name="AskBedford">The self-assessment asks for spare capacity by the Bedford scale.</param>
public sealed record GradingSettings(
    IReadOnlyList<string>? QuickPhrases = null,
    bool SelfAssessmentFirst = true,
    bool SelfAssessmentSkippable = true,
    bool SuggestGrades = true,
    GradeSuggestions? Suggestions = null,
    bool AskLoadInFlight = true,
    bool AskTaskLoad = false,
    bool AskBedford = false
)
{
    /// <summary>Remarks ready to be put into a comment by their number, at most nine.</summary>
    public IReadOnlyList<string> QuickPhrases { get; init; } = QuickPhrases ?? [];
}

/// <summary>The word of the scale, by slug, that fits each verdict of the engine; none where null.</summary>
public sealed record GradeSuggestions(string? Met = null, string? Close = null, string? NotMet = null);
