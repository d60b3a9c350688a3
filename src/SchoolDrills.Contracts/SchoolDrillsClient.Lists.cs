using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace SchoolDrills.Contracts;

/// <summary>Lists that come in pages.</summary>
public sealed partial class SchoolDrillsClient
{
    /// <summary>
    /// A list, whole. What changes on the server between two pages may be in both or in neither, as with any list that is read in parts.
    /// </summary>
    private async Task<IReadOnlyList<T>> AllAsync<T>(string path, JsonTypeInfo<IReadOnlyList<T>> type, CancellationToken ct)
    {
        var all = new List<T>();
        for (var next = path; next is not null; )
        {
            using var response = await AnswerAsync(HttpMethod.Get, next, null, ct);
            all.AddRange(await response.Content.ReadFromJsonAsync(type, ct) ?? throw new JsonException($"{path} answered nothing."));
            // The place is known; what the server says is which part comes next.
            next = NextQuery(response) is { } query ? path.Split('?')[0] + query : null;
        }

        return all;
    }

    /// <summary>The query of the address that the <c>Link</c> header has as the next.</summary>
    private static string? NextQuery(HttpResponseMessage response)
    {
        if (!response.Headers.TryGetValues("Link", out var links))
            return null;
        var next = links.FirstOrDefault(link => link.EndsWith("rel=\"next\"", StringComparison.Ordinal));
        var query = next?.IndexOf('?', StringComparison.Ordinal) ?? -1;
        return query < 0 ? null : next![query..next!.IndexOf('>', StringComparison.Ordinal)];
    }
}
