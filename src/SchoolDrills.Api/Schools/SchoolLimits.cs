using System.Globalization;
using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Schools;

/// <summary>
/// How much a school may keep and send where the operator said nothing of this one: <c>SCHOOLDRILLS_SCHOOL_STORAGE</c> (20GB) and
/// <c>SCHOOLDRILLS_SCHOOL_UPLOADS_AN_HOUR</c>; null for as much as it likes.
/// </summary>
internal sealed record SchoolLimits(long? MostStoredBytes, int? MostUploadsAnHour)
{
    private const string Storage = "SCHOOLDRILLS_SCHOOL_STORAGE",
        Uploads = "SCHOOLDRILLS_SCHOOL_UPLOADS_AN_HOUR";

    /// <exception cref="StartupRefusedException">A setting is no size or number.</exception>
    public static SchoolLimits Read(IConfiguration configuration)
    {
        long? bytes = null;
        int? uploads = null;
        if (configuration[Storage] is { Length: > 0 } size)
            bytes = ByteSize.Read(size) ?? throw new StartupRefusedException($"{Storage} is '{size}': give a size as 20GB or 500MB.");
        if (configuration[Uploads] is { Length: > 0 } number)
            uploads = ReadUploads(number) ?? throw new StartupRefusedException($"{Uploads} is '{number}': give a whole number from 1.");
        return new SchoolLimits(bytes, uploads);
    }

    public static int? ReadUploads(string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1 ? number : null;
}
