namespace SchoolDrills.Engine.Scoring;

/// <summary>Corrections that cannot be true of the recording they were made for; the message says which and why in one sentence.</summary>
public sealed class CorrectionRefusedException : ArgumentException
{
    /// <summary>Refuses a correction.</summary>
    /// <param name="message">One sentence for the instructor who made it.</param>
    public CorrectionRefusedException(string message)
        : base(message) { }
}
