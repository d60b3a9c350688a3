namespace SchoolDrills.Web.Debrief;

/// <summary>The segment that is chosen on a debrief, and how another is.</summary>
/// <param name="Index">Null for the whole drill.</param>
public sealed record SegmentChoice(int? Index, Action<int?> Choose);
