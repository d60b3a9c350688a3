using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// A recording cleaned and reconstructed once, in which any number of drills can be looked for (<see cref="DrillFinder"/>). Not safe
/// for use by two threads at once.
/// </summary>
public sealed class ReconstructedFlight
{
    private ReconstructedFlight(FlightState state, KnownConditions conditions)
    {
        State = state;
        Conditions = conditions;
    }

    /// <summary>The flight as first reconstructed, the whole recording over.</summary>
    public FlightState State { get; }

    /// <summary>What was known of the day.</summary>
    internal KnownConditions Conditions { get; }

    /// <summary>Grid of the whole recording: what it works out for one drill serves the next.</summary>
    internal AlignmentGrid Grid => field ??= new AlignmentGrid(State, State.TimeS[0], State.TimeS[^1]);

    /// <summary>Cleans and reconstructs a recording; null where it has fewer than ten usable samples.</summary>
    /// <param name="track">The recording as read.</param>
    /// <param name="options">What else is known; entry, corrections and events play no part here.</param>
    /// <param name="stage">Called at the start of each stage.</param>
    public static ReconstructedFlight? Of(Track track, ScoringOptions options, Action<ScoringStage>? stage = null)
    {
        stage?.Invoke(ScoringStage.Cleaning);
        if (TrackCleaner.Clean(track) is not { } clean)
            return null;
        stage?.Invoke(ScoringStage.Reconstructing);
        return new ReconstructedFlight(Reconstructor.Reconstruct(clean, options.Conditions), options.Conditions);
    }
}
