using System.Globalization;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Attempts;

/// <summary>Where an attempt stands in the list by flight: what the next page begins after.</summary>
internal readonly record struct AttemptKey(DateTimeOffset AtUtc, Guid Id)
{
    private const char Between = '_';

    public static AttemptKey Of(AttemptSummary attempt) => new(attempt.FlownAtUtc ?? attempt.UploadedAtUtc, attempt.AttemptId);

    /// <returns>False where there is a text and it is none of ours; the key is null where there is none.</returns>
    public static bool TryRead(string? text, out AttemptKey? key)
    {
        key = null;
        if (string.IsNullOrEmpty(text))
            return true;
        if (
            text.Split(Between) is not [var ticks, var id]
            || !long.TryParse(ticks, NumberStyles.None, CultureInfo.InvariantCulture, out var at)
            || at > DateTimeOffset.MaxValue.UtcTicks
            || !Guid.TryParseExact(id, "N", out var attempt)
        )
        {
            return false;
        }

        key = new AttemptKey(new DateTimeOffset(at, TimeSpan.Zero), attempt);
        return true;
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{AtUtc.UtcTicks}{Between}{Id:N}");
}
