using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Net.Http.Headers;
using SchoolDrills.Api.Health;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Uploads;

/// <summary>
/// An upload as read from its multipart body: the file, what was entered with it, and the drill where it stands in a field of its own.
/// </summary>
internal sealed record UploadForm(UploadedTrack File, AttemptMeta Meta, string? Drill)
{
    private const long LargestFieldBytes = 1 << 20;

    /// <summary>
    /// Reads the body part by part, so that an oversize file is refused when the limit is reached and not after it came.
    /// </summary>
    public static async Task<(UploadForm? Form, ProblemHttpResult? Problem)> ReadAsync(HttpRequest request, CancellationToken ct)
    {
        if (
            !MediaTypeHeaderValue.TryParse(request.ContentType, out var type)
            || !type.MediaType.Equals("multipart/form-data", StringComparison.OrdinalIgnoreCase)
            || HeaderUtilities.RemoveQuotes(type.Boundary) is not { Length: > 0 and <= 200 } boundary
        )
        {
            return (
                null,
                Problems.Invalid("not-multipart", "Send the recording as multipart/form-data with the file in a part named track.")
            );
        }

        UploadedTrack? file = null;
        var fields = new Dictionary<string, string>(StringComparer.Ordinal);
        try
        {
            var reader = new MultipartReader(boundary.ToString(), request.Body) { BodyLengthLimit = AttemptScoring.MaxRawBytes + 1 };
            while (await reader.ReadNextSectionAsync(ct) is { } section)
            {
                if (!ContentDispositionHeaderValue.TryParse(section.ContentDisposition, out var disposition))
                    continue;
                var name = HeaderUtilities.RemoveQuotes(disposition.Name).ToString();
                if (name == "track")
                {
                    var fileName = HeaderUtilities
                        .RemoveQuotes(disposition.FileNameStar.HasValue ? disposition.FileNameStar : disposition.FileName)
                        .ToString();
                    file = await UploadedTrack.ReceiveAsync(request.HttpContext, fileName, section.Body, AttemptScoring.MaxRawBytes, ct);
                    if (file is null)
                    {
                        return (
                            null,
                            Problems.TooLarge("The recording is over 64 MiB: upload one flight at a time, or compress it with gzip.")
                        );
                    }
                }
                else if (await BytesAsync(section.Body, LargestFieldBytes, ct) is { } text)
                {
                    if (RequestText.HoldsNul(text))
                        return (null, Problems.Nul());
                    fields[name] = Encoding.UTF8.GetString(text);
                }
                else
                {
                    return (null, Problems.TooLarge($"The field {name} is over 1 MiB."));
                }
            }
        }
        // A disk that is full is no fault of the upload.
        catch (Exception e)
            when (e is InvalidDataException or IOException && ServerFaults.StatusOf(e) == StatusCodes.Status500InternalServerError)
        {
            return e.Message.Contains("length limit", StringComparison.OrdinalIgnoreCase)
                ? (null, Problems.TooLarge("The recording is over 64 MiB: upload one flight at a time, or compress it with gzip."))
                : (null, Problems.Invalid("broken-upload", "The upload ended before its time or is not well formed: send it again."));
        }

        if (file is null)
            return (null, Problems.Invalid("no-track", "There is no file in the upload: send the recording in a part named track."));
        var (meta, problem) = MetaFrom(fields.GetValueOrDefault("meta") ?? fields.GetValueOrDefault("options"));
        return problem is null ? (new UploadForm(file, meta!, fields.GetValueOrDefault("drill") ?? meta!.Drill), null) : (null, problem);
    }

    private static (AttemptMeta? Meta, ProblemHttpResult? Problem) MetaFrom(string? json)
    {
        if (string.IsNullOrWhiteSpace(json))
            return (new AttemptMeta(), null);
        try
        {
            var meta = JsonSerializer.Deserialize(json, WireJson.Default.AttemptMeta) ?? new AttemptMeta();
            return AttemptScoring.Problem(meta) is { } problem ? (null, Problems.Unprocessable("meta", problem)) : (meta, null);
        }
        catch (JsonException e)
        {
            return (
                null,
                Problems.Unprocessable(
                    "meta",
                    $"The field meta is not the JSON expected{(e.Path is { } path ? $" at {path}" : "")}: see the reference of the "
                        + "endpoint."
                )
            );
        }
    }

    private static async Task<byte[]?> BytesAsync(Stream body, long limit, CancellationToken ct)
    {
        using var held = new MemoryStream();
        var buffer = new byte[81920];
        int read;
        while ((read = await body.ReadAsync(buffer, ct)) > 0)
        {
            if (held.Length + read > limit)
                return null;
            held.Write(buffer, 0, read);
        }

        return held.ToArray();
    }
}
