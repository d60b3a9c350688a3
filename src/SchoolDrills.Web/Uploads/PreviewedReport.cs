using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Uploads;

/// <summary>A report of which nothing is kept on the server.</summary>
/// <param name="Report">The report.</param>
/// <param name="KeptAs">Name under which the browser keeps the columns for its plots.</param>
public sealed record PreviewedReport(ScoreReport Report, string? KeptAs);
