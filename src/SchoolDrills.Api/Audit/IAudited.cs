namespace SchoolDrills.Api.Audit;

/// <summary>A row whose changes belong in the audit trail.</summary>
internal interface IAudited
{
    /// <summary>What its audit entries are about: the row itself, or what it belongs to.</summary>
    Guid AuditSubjectId { get; }

    /// <summary>
    /// Properties recorded before and after. No secrets, and nothing that is kept elsewhere (reports, plots, recordings).
    /// </summary>
    IReadOnlyList<string> AuditedProperties { get; }

    /// <summary>A new row that replaces an earlier one is recorded as a change of it.</summary>
    bool Amends(IAudited earlier) => false;
}

/// <summary>A row that the program writes by itself, so that no endpoint makes its audit entry.</summary>
internal interface IAuditedBySystem
{
    Guid AuditSubjectId { get; }

    AuditEntry ToAuditEntry();
}
