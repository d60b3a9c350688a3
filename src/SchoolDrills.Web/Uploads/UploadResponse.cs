using System.Net;
using System.Text.Json;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Uploads;

/// <summary>What an upload that was refused is told as.</summary>
internal static class UploadResponse
{
    private const long LargestBytes = 64L * 1024 * 1024;

    /// <summary>Why a file need not be sent at all; null where it may be.</summary>
    public static string? Unsendable(string name, long bytes) =>
        bytes switch
        {
            0 => $"{name} is empty; export it again from the device.",
            > LargestBytes =>
                $"{name} has {Figures.Bytes(bytes)}; the limit is 64 MiB. Export a shorter part of the flight, or compress the file.",
            _ => null,
        };

    /// <param name="status">HTTP status, 0 where the line broke.</param>
    /// <param name="body">Problem details, or whatever a proxy on the way answered.</param>
    public static string Sentence(int status, string body) =>
        status switch
        {
            0 => "The connection broke during the upload; nothing was stored. Try again.",
            413 when Read(body) is null =>
                "The recording is over the limit of 64 MiB; export a shorter part of the flight, or compress the file.",
            429 => "Too many recordings at once; wait a minute and try again.",
            _ => Read(body) is { } problem
                ? ApiPage.Sentence(
                    new ApiProblemException((HttpStatusCode)status, problem.Type, problem.Title, problem.Detail, problem.Errors)
                )
                : $"The server refused the recording ({status}); nothing was stored.",
        };

    /// <summary>The columns of a CSV that could not be read, for the person to say what they are; empty for anything else.</summary>
    public static IReadOnlyList<HeaderColumn> Columns(string body) => Read(body)?.Columns ?? [];

    private static ProblemBody? Read(string body)
    {
        try
        {
            return JsonSerializer.Deserialize(body, WireJson.Default.ProblemBody);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
