using System.Buffers;
using Microsoft.AspNetCore.Http;

namespace SchoolDrills.Api;

/// <summary>
/// Refuses text with a NUL in it: the database keeps none, and would say so late and as a fault. Paths and forms with one the framework
/// refuses itself; parts of uploads are read elsewhere and look at theirs with <see cref="HoldsNul(ReadOnlySpan{byte})"/>.
/// </summary>
internal sealed class RequestText(RequestDelegate next)
{
    /// <summary>More than any JSON that is taken; the server's own limit on a body is the same.</summary>
    private const long LargestJson = 8 << 20;

    public async Task InvokeAsync(HttpContext http)
    {
        var request = http.Request;
        if (
            request.Query.Any(pair => HoldsNul(pair.Key) || pair.Value.Any(HoldsNul))
            || request.HasJsonContentType() && await JsonHoldsNulAsync(request, http.RequestAborted)
        )
        {
            await Problems.Nul().ExecuteAsync(http);
            return;
        }

        await next(http);
    }

    /// <summary>Whether bytes of JSON, or of plain text, hold a NUL, as such or as an escape.</summary>
    public static bool HoldsNul(ReadOnlySpan<byte> text)
    {
        var scan = new Scan();
        return scan.Finds(text);
    }

    private static bool HoldsNul(string? text) => text?.Contains('\0') is true;

    private static async Task<bool> JsonHoldsNulAsync(HttpRequest request, CancellationToken ct)
    {
        request.EnableBuffering(bufferThreshold: 1 << 17, bufferLimit: LargestJson);
        var buffer = ArrayPool<byte>.Shared.Rent(1 << 14);
        try
        {
            var scan = new Scan();
            int read;
            while ((read = await request.Body.ReadAsync(buffer, ct)) > 0)
            {
                if (scan.Finds(buffer.AsSpan(0, read)))
                    return true;
            }

            request.Body.Position = 0;
            return false;
        }
        catch (IOException e) when (e is not BadHttpRequestException)
        {
            throw new BadHttpRequestException(e.Message, StatusCodes.Status413PayloadTooLarge, e);
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
        }
    }

    /// <summary>Looks for a NUL byte or <c>\u0000</c> in JSON that comes in pieces; only an escape has a backslash there.</summary>
    private struct Scan
    {
        /// <summary>How much of an escape has been seen: the backslash, the u, and zeros.</summary>
        private int seen;

        public bool Finds(ReadOnlySpan<byte> piece)
        {
            foreach (var one in piece)
            {
                if (one == 0)
                    return true;
                seen = (seen, one) switch
                {
                    (0, (byte)'\\') => 1,
                    (1, (byte)'u') => 2,
                    (>= 2, (byte)'0') => seen + 1,
                    _ => 0,
                };
                if (seen == 6)
                    return true;
            }

            return false;
        }
    }
}
