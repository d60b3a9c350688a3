using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace SchoolDrills.Api.Drafts;

/// <summary>The revision of a draft as <c>If-Match</c> and <c>ETag</c> have it: a number in quotes, 0 where there is no draft.</summary>
internal static class RevisionHeader
{
    public static ProblemHttpResult? Read(string? ifMatch, out int? revision)
    {
        revision = null;
        if (string.IsNullOrWhiteSpace(ifMatch))
            return null;
        var text = ifMatch.Trim();
        if (text is ['"', .. var digits, '"'] && int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
        {
            revision = number;
            return null;
        }

        return Problems.Invalid(
            "if-match",
            "If-Match is the revision of the draft that you started from, in quotes: \"3\", or \"0\" where there was none."
        );
    }

    public static void Write(HttpResponse response, int revision) =>
        response.Headers.ETag = string.Create(CultureInfo.InvariantCulture, $"\"{revision}\"");
}
