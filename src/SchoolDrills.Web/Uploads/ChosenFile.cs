using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Uploads;

/// <summary>A file as the browser holds it.</summary>
/// <param name="Number">By which the browser knows it.</param>
public sealed record ChosenFile(int Number, string Name, long Bytes)
{
    private const long LargestBytes = 64L * 1024 * 1024;

    /// <summary>Why it need not be sent at all; null where it may be.</summary>
    public string? Problem =>
        Bytes switch
        {
            0 => T["{0} is empty; export it again from the device.", Name].Value,
            > LargestBytes => T[
                "{0} is {1}; the limit is 64 MiB. Export a shorter part of the flight, or compress the file.",
                Name,
                Figures.Bytes(Bytes)
            ].Value,
            _ => null,
        };
}

/// <summary>How much of a file has been sent.</summary>
/// <param name="Number">By which the browser knows the file.</param>
public sealed record UploadProgress(int Number, int Percent);
