using System.Collections.Immutable;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>A state of a draft that can be gone back to.</summary>
/// <param name="Template">The draft.</param>
/// <param name="What">What was done to reach it, in a few words; empty for where editing began.</param>
/// <param name="Typing">The field that was typed into, where it was; typing on is one step.</param>
public sealed record DraftStep(DrillTemplate Template, string What, string? Typing = null);

/// <summary>The states of a draft through undo and redo. Every change gives a new history.</summary>
public sealed class DraftHistory
{
    /// <summary>Most steps back.</summary>
    public const int Most = 200;

    private readonly ImmutableList<DraftStep> steps;
    private readonly int at;

    /// <summary>A history that begins with a draft.</summary>
    /// <param name="template">The draft.</param>
    public DraftHistory(DrillTemplate template)
        : this([new DraftStep(template, "")], 0) { }

    private DraftHistory(ImmutableList<DraftStep> steps, int at) => (this.steps, this.at) = (steps, at);

    /// <summary>The draft as it is.</summary>
    public DrillTemplate Now => steps[at].Template;

    /// <summary>What undo takes back; null where there is nothing.</summary>
    public string? CanUndo => at > 0 ? steps[at].What : null;

    /// <summary>What redo does again; null where there is nothing.</summary>
    public string? CanRedo => at < steps.Count - 1 ? steps[at + 1].What : null;

    /// <summary>The history after a change; what was undone before is gone.</summary>
    /// <param name="template">The draft after it.</param>
    /// <param name="what">What was done, in a few words.</param>
    /// <param name="typing">The field typed into: typing on in it is the same step.</param>
    public DraftHistory Changed(DrillTemplate template, string what, string? typing = null)
    {
        if (ReferenceEquals(template, Now))
            return this;
        var step = new DraftStep(template, what, typing);
        if (typing is not null && at > 0 && steps[at].Typing == typing)
            return new(steps.RemoveRange(at + 1, steps.Count - at - 1).SetItem(at, step), at);
        var kept = steps.RemoveRange(at + 1, steps.Count - at - 1).Add(step);
        if (kept.Count > Most + 1)
            kept = kept.RemoveAt(0);
        return new(kept, kept.Count - 1);
    }

    /// <summary>One step back.</summary>
    public DraftHistory Undo() => at > 0 ? new(steps, at - 1) : this;

    /// <summary>One step forward again.</summary>
    public DraftHistory Redo() => at < steps.Count - 1 ? new(steps, at + 1) : this;
}
