using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Areas;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Api.Demo;

/// <summary>Practice areas of the demo school, invented like the school, over the plains that its recordings were flown over.</summary>
internal static class DemoAreas
{
    public static async Task AddAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        if (await db.PracticeAreas.AnyAsync(ct))
            return;
        Add(
            "Plains West",
            2500,
            5500,
            [new(-43.58, 171.64), new(-43.56, 171.86), new(-43.66, 171.94), new(-43.82, 171.90), new(-43.85, 171.67), new(-43.72, 171.57)]
        );
        Add(
            "Plains East",
            2500,
            6500,
            [new(-43.58, 171.97), new(-43.61, 172.24), new(-43.79, 172.30), new(-43.87, 172.04), new(-43.70, 171.99)]
        );

        void Add(string name, double floorFt, double ceilingFt, LatLon[] corners) =>
            db.PracticeAreas.Add(
                new PracticeAreaRow
                {
                    SchoolId = DemoPeople.SchoolId,
                    Name = name,
                    FloorFt = floorFt,
                    CeilingFt = ceilingFt,
                    Corners = corners,
                }
            );
    }
}
