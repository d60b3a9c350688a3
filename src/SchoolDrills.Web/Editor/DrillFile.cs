using System.Text.Json;
using Microsoft.AspNetCore.Components.Forms;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Editor;

/// <summary>A drill as a file of JSON, by the published schema.</summary>
internal static class DrillFile
{
    private static readonly EngineJson Indented = new(new JsonSerializerOptions(EngineJson.Default.Options) { WriteIndented = true });

    public static string Write(DrillTemplate template) => JsonSerializer.Serialize(template, Indented.DrillTemplate);

    /// <summary>Reads a file chosen in the browser; what is wrong with it is told with the place in it.</summary>
    public static async Task<TemplateReading> ReadAsync(IBrowserFile file)
    {
        if (file.Size > TemplateJson.LimitBytes)
            return new(null, [T["The file is longer than {0} KiB.", TemplateJson.LimitBytes / 1024]]);
        using var whole = new MemoryStream();
        await using (var stream = file.OpenReadStream(TemplateJson.LimitBytes))
            await stream.CopyToAsync(whole);
        whole.Position = 0;
        return TemplateJson.Read(whole);
    }
}
