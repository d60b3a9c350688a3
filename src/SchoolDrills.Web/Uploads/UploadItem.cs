using System.Text.Json;
using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Uploads;

/// <summary>Where one recording stands on its way from the browser to a debrief.</summary>
public enum UploadState
{
    Sending,
    Checking,
    Ready,
    Claimed,
    Refused,
}

/// <summary>One recording on the upload desk.</summary>
public sealed class UploadItem
{
    public UploadItem(ChosenFile file) => (File, Name, Bytes) = (file, file.Name, file.Bytes);

    /// <summary>One that was sent before.</summary>
    public UploadItem(PendingUpload pending) =>
        (Pending, Name, Bytes, State) = (pending, pending.FileName, pending.FileBytes, UploadState.Checking);

    /// <summary>The file in the browser; null for a recording that was sent before.</summary>
    public ChosenFile? File { get; }

    public string Name { get; }

    public long Bytes { get; }

    public UploadState State { get; set; } = UploadState.Sending;

    public int Percent { get; set; }

    public PendingUpload? Pending { get; set; }

    public UploadCheck? Check { get; set; }

    /// <summary>Why it cannot be used, one sentence.</summary>
    public string? Refusal { get; private set; }

    /// <summary>What its columns are, where the header of a CSV does not say and a person must.</summary>
    public ColumnDraft? Columns { get; set; }

    public bool RememberColumns { get; set; } = true;

    /// <summary>The attempt it became, as last seen.</summary>
    public AttemptDetail? Attempt { get; set; }

    /// <summary>Slug of the drill chosen for an attempt without an assignment.</summary>
    public string Drill { get; set; } = "";

    /// <summary>Whose it is, where an instructor sends it.</summary>
    public Guid? StudentId { get; set; }

    public bool IsBeingScored => Attempt is { Status: AttemptStatus.Queued or AttemptStatus.Scoring };

    /// <summary>Form fields that go with the file.</summary>
    public IReadOnlyDictionary<string, string> Fields =>
        Columns is null
            ? []
            : new Dictionary<string, string>
            {
                ["meta"] = JsonSerializer.Serialize(
                    new AttemptMeta { Columns = Columns.Mapping, RememberColumns = RememberColumns },
                    WireJson.Default.AttemptMeta
                ),
            };

    public void Refuse(string why) => (State, Refusal) = (UploadState.Refused, why);
}
