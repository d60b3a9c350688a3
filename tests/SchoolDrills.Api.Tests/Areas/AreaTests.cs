using System.Net;
using System.Text.Json;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Areas;

public sealed class AreaTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static AddAreas Areas(string? name, double? floorFt, params string[] names)
    {
        var features = names.Select(n =>
            $$$"""
                {"type":"Feature","properties":{"name":"{{{n}}}"},"geometry":
                  {"type":"Polygon","coordinates":[[[171.7,-43.8],[172.1,-43.8],[172.1,-43.6],[171.7,-43.8]]]}}
                """
        );
        var json = $$"""{"type":"FeatureCollection","features":[{{string.Join(',', features)}}]}""";
        return new AddAreas(JsonDocument.Parse(json).RootElement, name, floorFt);
    }

    [Fact]
    public async Task The_chief_adds_areas_from_a_file_everybody_at_the_school_reads_them_and_nobody_elsewhere()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await chief.AddAreasAsync(Areas(null, 2500, "North block", "South block"), Cancel);

        Assert.Equal(["North block", "South block"], made.Select(a => a.Name));
        Assert.All(made, a => Assert.Equal(2500, a.FloorFt));
        Assert.Equal([171.7, -43.8], made[0].Polygon.Coordinates[0][0]);
        foreach (var person in (string[])[SchoolsFixture.Student, SchoolsFixture.Instructor])
            Assert.Equal(2, (await (await app.AsAsync(person)).AreasAsync(Cancel)).Count(a => made.Select(m => m.Id).Contains(a.Id)));
        Assert.Empty(await (await app.AsAsync(SchoolsFixture.FarChief)).AreasAsync(Cancel));
        Assert.Contains(
            (await chief.AuditAsync(what: "area-added", ct: Cancel)).Items,
            l => l.Detail!.Contains("South block, from 2500 ft")
        );

        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            async () => await (await app.AsAsync(SchoolsFixture.FarChief)).RemoveAreaAsync(made[0].Id, Cancel)
        );
        foreach (var area in made)
            await chief.RemoveAreaAsync(area.Id, Cancel);
        Assert.DoesNotContain(await chief.AreasAsync(Cancel), a => made.Select(m => m.Id).Contains(a.Id));
    }

    [Fact]
    public async Task A_file_is_taken_whole_or_not_at_all()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.AddAreasAsync(Areas(null, 2500, "Taken"), Cancel);

        var twice = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.AddAreasAsync(Areas(null, 2500, "Fresh", "taken"), Cancel)
        );
        Assert.Equal("There is an area taken already: take that one out first, or give this one another name.", twice.Message);
        Assert.DoesNotContain(await chief.AreasAsync(Cancel), a => a.Name == "Fresh");

        var bare = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.AddAreasAsync(Areas(null, null, "Bare"), Cancel)
        );
        Assert.StartsWith("Bare has no floor", bare.Message, StringComparison.Ordinal);
        var nothing = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.AddAreasAsync(new AddAreas(JsonDocument.Parse("""{"type":"Point"}""").RootElement), Cancel)
        );
        Assert.Contains("no GeoJSON", nothing.Errors["segments"][0], StringComparison.Ordinal);
        var noName = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.AddAreasAsync(Areas(null, 2500, ""), Cancel)
        );
        Assert.StartsWith("Area 1 of the file has no name", noName.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Of_two_who_add_one_name_at_once_one_is_told()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var both = await Task.WhenAll(
            Enumerable
                .Range(0, 2)
                .Select(async _ =>
                {
                    try
                    {
                        await chief.AddAreasAsync(Areas("At once", 3000, "any"), Cancel);
                        return HttpStatusCode.Created;
                    }
                    catch (ApiProblemException refusal)
                    {
                        return refusal.Status;
                    }
                })
        );

        Assert.Equal([HttpStatusCode.Created, HttpStatusCode.UnprocessableEntity], both.Order());
    }

    [Fact]
    public async Task The_database_lets_only_a_chief_write_areas()
    {
        await using var sql = await RawSql.OpenAsync(app.Database.Access.App);
        var insert =
            "insert into practice_areas (id, school_id, name, floor_ft, corners) values "
            + $"(gen_random_uuid(), '{app.TussockId}', 'by hand', 1, '[]')";
        await sql.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Instructor), "whole-school");
        await Assert.ThrowsAsync<Npgsql.PostgresException>(() => sql.ExecuteAsync(insert));
        Assert.Equal(0, await sql.ExecuteAsync("delete from practice_areas"));
        await sql.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
        Assert.Equal(1, await sql.ExecuteAsync(insert));
        Assert.Equal(1, await sql.ExecuteAsync("delete from practice_areas where name = 'by hand'"));
    }
}
