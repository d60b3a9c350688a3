using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Drills;

/// <summary>A drill resolved for one entry, with its drawing and the standard it is judged by.</summary>
public sealed record DrillBrief(DrillTemplate Template, DrillTimeline Timeline, DrillPicture Picture, ToleranceStandard? Standard)
{
    public static async Task<DrillBrief> LoadAsync(
        SchoolDrillsClient api,
        string slug,
        int? version,
        AssignmentOverrides? entry,
        CancellationToken ct
    )
    {
        var template = api.DrillAsync(slug, version, ct);
        var timeline = api.TimelineAsync(slug, version, entry, ct);
        var picture = api.PictureAsync(slug, version, entry, ct);
        var standards = api.StandardsAsync(ct);
        await Task.WhenAll(template, timeline, picture, standards);
        var standardSlug = entry?.StandardSlug ?? (await template).StandardSlug;
        return new DrillBrief(await template, await timeline, await picture, (await standards).FirstOrDefault(s => s.Slug == standardSlug));
    }
}
