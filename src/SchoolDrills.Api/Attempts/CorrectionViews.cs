using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Attempts;

/// <summary>Corrections as they are read; each with the person who made it.</summary>
internal static class CorrectionViews
{
    /// <summary>Newest first.</summary>
    public static IReadOnlyList<CorrectionView> Of(IEnumerable<AttemptCorrection> corrections) =>
        [.. corrections.OrderByDescending(c => c.Revision).Select(One)];

    public static CorrectionView One(AttemptCorrection c) =>
        new(
            c.Revision,
            c.PersonId,
            c.Person.DisplayName,
            c.AtUtc,
            c.Reason,
            c.Undone,
            c.ByHand.Boundaries ?? [],
            c.ByHand.Excluded ?? [],
            c.ByHand.Run,
            c.QnhHpa,
            c.WindFromDegTrue,
            c.WindKt
        );
}
