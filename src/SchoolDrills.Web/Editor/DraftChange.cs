using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Editor;

/// <summary>A draft after something was done to it.</summary>
/// <param name="What">What was done, in a few words, for undo to name.</param>
/// <param name="Typing">The field typed into; typing on in it is one step back.</param>
public sealed record DraftChange(DrillTemplate Template, string What, string? Typing = null);
