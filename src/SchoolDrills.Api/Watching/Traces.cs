using System.Diagnostics;

namespace SchoolDrills.Api.Watching;

/// <summary>Traces by W3C's standard: one number from the browser's request to the score that it caused, and back.</summary>
internal static class Traces
{
    public const string Source = "SchoolDrills";

    private static readonly ActivitySource Activities = new(Source);

    /// <summary>The number a person can quote: that of the trace that runs here.</summary>
    public static string? Number => Activity.Current?.TraceId.ToHexString();

    /// <summary>To be kept with what is done later on behalf of this request: so it outlives the host.</summary>
    public static string? Parent => Activity.Current is { IdFormat: ActivityIdFormat.W3C, Id: { } id } ? id : null;

    /// <summary>
    /// Goes on with a trace, whether or not anybody collects it: the log has its number in any case. It is linked as well, since the
    /// request ended long ago.
    /// </summary>
    public static Activity Continue(string name, string? traceParent)
    {
        var known = ActivityContext.TryParse(traceParent, null, isRemote: true, out var parent);
        var activity = Activities.StartActivity(
            name,
            ActivityKind.Consumer,
            known ? parent : default,
            links: known ? [new ActivityLink(parent)] : null
        );
        if (activity is not null)
            return activity;
        activity = new Activity(name);
        if (known)
            activity.SetParentId(parent.TraceId, parent.SpanId, parent.TraceFlags);
        return activity.Start();
    }

    public static void TellOutcome(string outcome) => Activity.Current?.SetTag("schooldrills.outcome", outcome);
}
