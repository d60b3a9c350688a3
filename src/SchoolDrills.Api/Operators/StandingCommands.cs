using System.Globalization;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Schools;

namespace SchoolDrills.Api.Operators;

/// <summary>
/// The operator's commands <c>suspend-school</c>, <c>resume-school</c> and <c>limit-school</c>. Hosts ask the database at each request, so
/// that both count at once and everywhere.
/// </summary>
internal static class StandingCommands
{
    public static Task SuspendAsync(DatabaseHost database, string school, TextWriter output, CancellationToken ct) =>
        ChangeAsync(
            database,
            school,
            "update schools set suspended_at_utc = now() where id = $1 and suspended_at_utc is null",
            [],
            ("school-suspended", "suspended"),
            "is suspended: nobody of it comes in, nothing more is taken and no mail is sent; what was accepted is still scored.",
            "is suspended already.",
            output,
            ct
        );

    public static Task ResumeAsync(DatabaseHost database, string school, TextWriter output, CancellationToken ct) =>
        ChangeAsync(
            database,
            school,
            "update schools set suspended_at_utc = null where id = $1 and suspended_at_utc is not null",
            [],
            ("school-resumed", "resumed"),
            "is resumed: its people come in as before, with the sessions they had.",
            "is not suspended.",
            output,
            ct
        );

    public static async Task LimitAsync(DatabaseHost database, string school, string[] options, TextWriter output, CancellationToken ct)
    {
        const string Usage =
            "Say how much: limit-school SCHOOL --storage 20GB --uploads-an-hour 500, either or both; none for what the installation says.";
        object? bytes = null,
            uploads = null;
        for (var i = 0; i < options.Length; i += 2)
        {
            var value = i + 1 < options.Length ? options[i + 1] : throw new StartupRefusedException(Usage);
            switch (options[i])
            {
                case "--storage":
                    bytes = value == "none" ? DBNull.Value : ByteSize.Read(value) ?? throw new StartupRefusedException(Usage);
                    break;
                case "--uploads-an-hour":
                    uploads = value == "none" ? DBNull.Value : SchoolLimits.ReadUploads(value) ?? throw new StartupRefusedException(Usage);
                    break;
                default:
                    throw new StartupRefusedException(Usage);
            }
        }

        if (bytes is null && uploads is null)
            throw new StartupRefusedException(Usage);
        var words = string.Join(
            ", ",
            (
                (string?[])[Words(bytes, "recordings", " of recordings"), Words(uploads, "uploads an hour", " uploads an hour")]
            ).OfType<string>()
        );
        await ChangeAsync(
            database,
            school,
            """
            update schools set
              most_stored_bytes = case when $2 then $3::bigint else most_stored_bytes end,
              most_uploads_an_hour = case when $4 then $5::integer else most_uploads_an_hour end
            where id = $1
            """,
            [bytes is not null, bytes ?? DBNull.Value, uploads is not null, uploads ?? DBNull.Value],
            ("school-limited", words),
            $"may have: {words}.",
            "",
            output,
            ct
        );
    }

    private static string? Words(object? limit, string what, string unit) =>
        limit switch
        {
            null => null,
            long bytes => ByteSize.Text(bytes) + unit,
            int uploads => uploads.ToString(CultureInfo.InvariantCulture) + unit,
            _ => $"{what} as the installation says",
        };

    private static async Task ChangeAsync(
        DatabaseHost database,
        string nameOrId,
        string sql,
        object[] values,
        (string Action, string Detail) entry,
        string done,
        string undone,
        TextWriter output,
        CancellationToken ct
    )
    {
        await using var owner = await OwnerConnection.OpenAsync(database, ct);
        var school = await owner.EnterAsync(nameOrId, ct);
        await using var transaction = await owner.Connection.BeginTransactionAsync(ct);
        var changed = await owner.ExecuteAsync(sql, ct, [school.Id, .. values]) > 0;
        if (changed)
            await owner.NoteAsync(school.Id, entry.Action, entry.Detail, ct);
        await transaction.CommitAsync(ct);
        await output.WriteLineAsync($"{school.Name} {(changed ? done : undone)}");
    }
}
