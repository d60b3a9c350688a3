using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Uploads;

/// <summary>Where one recording stands on its way from the browser to a debrief.</summary>
public enum UploadState
{
    Sending,
    Looking,
    Ready,
    Claimed,
    Refused,
}

/// <summary>One recording on the upload desk.</summary>
public sealed class UploadItem(int number, string name, long bytes)
{
    /// <summary>Under which the browser holds the file, or one of ours for a recording that was sent before.</summary>
    public int Number { get; } = number;

    public string Name { get; } = name;

    public long Bytes { get; } = bytes;

    public UploadState State { get; set; } = UploadState.Sending;

    public int Percent { get; set; }

    public PendingUpload? Pending { get; set; }

    public UploadCheck? Check { get; set; }

    /// <summary>Why it cannot be used, one sentence.</summary>
    public string? Refusal { get; set; }

    /// <summary>What its columns are, where the header of a CSV does not say and a person must.</summary>
    public ColumnDraft? Columns { get; set; }

    public bool RememberColumns { get; set; } = true;

    /// <summary>The attempt it became, as last seen.</summary>
    public AttemptDetail? Attempt { get; set; }

    /// <summary>Drill chosen by hand, for a free attempt.</summary>
    public string Drill { get; set; } = "";

    /// <summary>Whose it is, where an instructor sends it.</summary>
    public Guid? StudentId { get; set; }
}
