namespace SchoolDrills.Engine.Scoring;

/// <summary>Something noted on board: a check ticked, a load task given or answered, relief used, a mark.</summary>
/// <param name="Kind">
/// One of <see cref="EventKinds"/>, or another word that is kept and not judged.
/// </param>
/// <param name="AtUtc">When.</param>
/// <param name="Detail">Which check or task, as the template names it, or free words.</param>
public sealed record FlightEvent(string Kind, DateTimeOffset AtUtc, string? Detail = null);
