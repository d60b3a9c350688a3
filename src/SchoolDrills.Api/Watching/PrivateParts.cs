using System.Diagnostics;
using OpenTelemetry;

namespace SchoolDrills.Api.Watching;

/// <summary>
/// Takes from a span what is somebody's own, whatever an instrumentation of today or tomorrow puts there: queries hold the tokens of
/// links and the words people search for.
/// </summary>
internal sealed class PrivateParts : BaseProcessor<Activity>
{
    private static readonly string[] Private =
    [
        "url.query",
        "url.full",
        "http.url",
        "http.target",
        "user_agent.original",
        "client.address",
        "client.port",
        "network.peer.address",
        "network.peer.port",
        "exception.message",
        "exception.stacktrace",
    ];

    public override void OnEnd(Activity data)
    {
        foreach (var name in Private)
        {
            if (data.GetTagItem(name) is not null)
                data.SetTag(name, null);
        }

        foreach (var (name, _) in data.TagObjects.Where(t => t.Key.StartsWith("db.query.parameter", StringComparison.Ordinal)).ToList())
            data.SetTag(name, null);
        if (data.Status == ActivityStatusCode.Error && data.StatusDescription is not null && data.Source.Name != Traces.Source)
            data.SetStatus(ActivityStatusCode.Error);
    }
}
