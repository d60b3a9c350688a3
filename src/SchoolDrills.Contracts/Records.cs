namespace SchoolDrills.Contracts;

/// <summary>One line of the school's audit trail.</summary>
/// <param name="Who">Name at the time of reading; null for the program itself.</param>
/// <param name="What">A verb in the past, such as <c>grade-signed</c>.</param>
/// <param name="Subject">Kind of thing it was done to.</param>
public sealed record AuditLine(
    long Id,
    DateTimeOffset AtUtc,
    Guid? PersonId,
    string? Who,
    string What,
    string Subject,
    Guid SubjectId,
    string? Detail,
    string? Ip,
    string? UserAgent,
    IReadOnlyList<AuditChange> Changes
);

/// <summary>One thing that an action changed.</summary>
public sealed record AuditChange(string Field, string? Before, string? After);

/// <summary>A page of the audit trail, newest first.</summary>
/// <param name="Total">How many there are on all pages; of many no more than a thousand beyond this page are counted.</param>
/// <param name="Actions">Every action that the trail knows, to filter by.</param>
/// <param name="More">Whether there are more than were counted.</param>
public sealed record AuditPage(
    IReadOnlyList<AuditLine> Items,
    int Page,
    int PageSize,
    int Total,
    IReadOnlyList<string> Actions,
    bool More = false
);

/// <summary>What a school decides about its people's data.</summary>
/// <param name="InstructorsSeeOwnStudentsOnly">Instructors see records of students they gave an assignment to, and no others.</param>
/// <param name="RetentionRules">Slugs of the rules that bind the school.</param>
/// <param name="RetentionOwnYears">Years the school itself wants records kept; 0 for none of its own.</param>
public sealed record RecordSettings(bool InstructorsSeeOwnStudentsOnly, IReadOnlyList<string> RetentionRules, int RetentionOwnYears);

/// <summary>A published rule on how long training records are kept.</summary>
/// <param name="Basis">How the figure is known: <c>published</c>, <c>transcription</c>.</param>
public sealed record RetentionRule(string Slug, string Title, int Years, string Source, string Basis);

/// <summary>How long the school keeps records, and whose time has come.</summary>
/// <param name="Years">The longest of what applies.</param>
public sealed record RecordsOverview(
    RecordSettings Settings,
    IReadOnlyList<RetentionRule> Rules,
    int Years,
    IReadOnlyList<KeptPerson> People
);

/// <summary>A student as the retention rules see one.</summary>
/// <param name="LastOn">Day of the last training or of leaving, whichever is later; null where nothing was ever flown.</param>
/// <param name="KeepUntil">Last day on which the record must be kept; null where nothing binds.</param>
/// <param name="MayErase">Whether the record may be erased today.</param>
public sealed record KeptPerson(
    Guid Id,
    string DisplayName,
    bool Active,
    DateOnly? LastOn,
    DateOnly? KeepUntil,
    bool LegalHold,
    string? HoldReason,
    bool MayErase
);

/// <summary>Sets or lifts a legal hold.</summary>
public sealed record SetLegalHold(bool Hold, string? Reason);

/// <summary>Erases a person; the name is typed again, since it cannot be undone.</summary>
public sealed record ErasePerson(string DisplayName);

/// <summary>A student's training record.</summary>
/// <param name="Digest">
/// SHA-256 over the entries, in the audit trail as well: a printed record that carries it can be checked against what the school holds.
/// </param>
public sealed record TrainingRecord(
    string School,
    Guid StudentId,
    string Student,
    string Email,
    DateOnly EnrolledOn,
    DateOnly? LeftOn,
    DateTimeOffset MadeAtUtc,
    string MadeBy,
    IReadOnlyList<RecordEntry> Entries,
    string Digest
);

/// <summary>One attempt in a training record, in the order flown.</summary>
public sealed record RecordEntry(
    Guid AttemptId,
    DateTimeOffset FlownAtUtc,
    string Drill,
    int DrillVersion,
    string? AssignedBy,
    string Outcome,
    double? WithinShare,
    IReadOnlyList<RecordGrade> Grades
);

/// <summary>A signed grade in a training record; amendments follow what they amend.</summary>
public sealed record RecordGrade(
    string Overall,
    string Instructor,
    DateTimeOffset SignedAtUtc,
    string? Comment,
    string? AmendmentReason,
    DateTimeOffset? ReadAtUtc,
    string? Reply
);
