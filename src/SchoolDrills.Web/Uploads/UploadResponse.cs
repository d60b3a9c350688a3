using System.Net;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Uploads;

/// <summary>What came back for an uploaded recording.</summary>
/// <param name="Status">HTTP status, 0 where the connection broke.</param>
/// <param name="Body">What was asked for, problem details, or whatever a proxy on the way answered.</param>
/// <param name="KeptAs">Name under which the browser keeps the columns of a preview.</param>
public sealed record UploadResponse(int Status, string Body, string? KeptAs = null)
{
    public bool IsAccepted => Status is 200 or 201 or 202;

    /// <summary>Why it was refused, in a sentence.</summary>
    public string Problem =>
        Status switch
        {
            0 => T["The connection broke during the upload; nothing was stored. Try again."],
            413 when Details is null => T[
                "The recording is over the limit of 64 MiB; export a shorter part of the flight, or compress the file."
            ],
            429 => T["Too many recordings at once; wait a minute and try again."],
            _ => Details is { } details
                ? ApiPage.Sentence(
                    new ApiProblemException(
                        (HttpStatusCode)Status,
                        details.Type,
                        details.Title,
                        details.Detail,
                        details.Errors,
                        number: details.TraceId
                    )
                )
                : T["The server refused the recording ({0}); nothing was stored.", Status],
        };

    /// <summary>The columns of a CSV that could not be read, for the person to say what they are; empty for anything else.</summary>
    public IReadOnlyList<HeaderColumn> Columns => Details?.Columns ?? [];

    private ProblemBody? Details
    {
        get
        {
            try
            {
                return JsonSerializer.Deserialize(Body, WireJson.Default.ProblemBody);
            }
            catch (JsonException)
            {
                return null;
            }
        }
    }

    public T Read<T>(JsonTypeInfo<T> type) => JsonSerializer.Deserialize(Body, type)!;
}
