namespace SchoolDrills.Contracts;

/// <summary>A person of the school.</summary>
public sealed record PersonSummary(Guid Id, string DisplayName, string Email, IReadOnlyList<string> Roles, bool Active);
