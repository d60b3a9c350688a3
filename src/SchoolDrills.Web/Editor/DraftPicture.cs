using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;

namespace SchoolDrills.Web.Editor;

/// <summary>A preview's path as drawings take it.</summary>
internal static class DraftPicture
{
    public static DrillPicture? Of(DraftPreview preview) => preview.Path is { } path ? Of(path) : null;

    private static DrillPicture Of(NominalPath path) => new(path.TimeS, path.EastM, path.NorthM, path.AltitudeFt, path.SegmentIndex);
}
