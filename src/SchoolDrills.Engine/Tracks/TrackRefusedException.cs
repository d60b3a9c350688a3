namespace SchoolDrills.Engine.Tracks;

/// <summary>Carries a problem from inside a reader to <see cref="TrackReader"/>, which returns it as a value.</summary>
internal sealed class TrackRefusedException(TrackProblem problem) : Exception(problem.Message)
{
    public TrackProblem Problem { get; } = problem;

    /// <summary>The same problem with the header of the file.</summary>
    public TrackRefusedException With(TrackHeader header) => new(Problem with { Header = header });

    public static TrackRefusedException Unreadable(string message, int? line = null) =>
        new(new TrackProblem(TrackProblemKind.Unreadable, ShownText.Clean(message), line));

    public static TrackRefusedException UnknownFormat(string message) =>
        new(new TrackProblem(TrackProblemKind.UnknownFormat, ShownText.Clean(message)));

    public static TrackRefusedException TooLarge(string message) => new(new TrackProblem(TrackProblemKind.TooLarge, message));
}
