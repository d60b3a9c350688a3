using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Schools;

namespace SchoolDrills.Api.Uploads;

/// <summary>What the operator lets a school keep and send, asked within the transaction that keeps a recording.</summary>
internal sealed class SchoolRoom(SchoolDrillsDbContext db, SchoolLimits usual)
{
    /// <summary>
    /// Why this recording is not taken; null where there is room. Of a school with limits one recording is taken at a time from here to the
    /// end of the transaction, so that of two at once the second counts the first.
    /// </summary>
    /// <param name="bytes">As it would be kept, less what is dropped for it.</param>
    /// <param name="isUpload">Whether it counts as one of the hour; one that is only looked at does not.</param>
    public async Task<ProblemHttpResult?> RefusalAsync(long bytes, bool isUpload, DateTimeOffset now, CancellationToken ct)
    {
        var room = await db
            .Database.SqlQuery<Room>(
                $"""
                select suspended as "Suspended", stored_bytes as "StoredBytes", most_bytes as "MostBytes", most_uploads as "MostUploads",
                  uploads_again_at_utc as "UploadsAgainAtUtc"
                from lookup.intake_room({usual.MostStoredBytes}, {usual.MostUploadsAnHour}, {now})
                """
            )
            .SingleAsync(ct);
        if (room.Suspended)
            return Problems.Suspended();
        if (room.MostBytes is { } most && bytes > 0 && room.StoredBytes + bytes > most)
            return Problems.SchoolFull(ByteSize.Text(most));
        if (isUpload && room.UploadsAgainAtUtc is { } again)
            return Problems.SchoolSentEnough(room.MostUploads!.Value, again > now ? again - now : TimeSpan.FromSeconds(1));
        return null;
    }

    private sealed record Room(bool Suspended, long StoredBytes, long? MostBytes, int? MostUploads, DateTimeOffset? UploadsAgainAtUtc);
}
