using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using SchoolDrills.Engine;
using Xunit;
using static SchoolDrills.Api.Tests.Drills.DraftTests;

namespace SchoolDrills.Api.Tests.Drills;

/// <summary>What may be sent as a draft, and what is refused though unfinished drafts are taken.</summary>
public sealed class DraftRequestTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("")]
    [InlineData("[1, 2")]
    [InlineData("null")]
    [InlineData("""{"slug": "hostile"}""")]
    [InlineData("""{"slug": "Not A Slug", "title": "", "purpose": "", "standardSlug": "", "entry": {}, "segments": []}""")]
    public async Task What_is_no_template_is_refused_though_unfinished_ones_are_taken(string body)
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        await (await chief.PostAsync("/api/v1/drills?unfinished=true", Json(body), Cancel)).ProblemAsync(
            HttpStatusCode.UnprocessableEntity
        );
        await (await chief.PutAsync("/api/v1/drills/racetrack/draft?unfinished=true", Json(body), Cancel)).ProblemAsync(
            HttpStatusCode.UnprocessableEntity
        );
    }

    [Theory]
    [InlineData("slug", "\"No Slug\"", HttpStatusCode.UnprocessableEntity)]
    [InlineData("slug", "\"another\"", HttpStatusCode.UnprocessableEntity)]
    [InlineData("title", "null", HttpStatusCode.UnprocessableEntity)]
    [InlineData("title", "\"half \\ud800\"", HttpStatusCode.UnprocessableEntity)]
    [InlineData("title", "\"a \\u0000\"", HttpStatusCode.BadRequest)]
    [InlineData("segments", "[null]", HttpStatusCode.UnprocessableEntity)]
    [InlineData("segments", "[{\"durationS\": 1e999}]", HttpStatusCode.UnprocessableEntity)]
    [InlineData("segments", "[{\"durationS\": -1e300}]", HttpStatusCode.OK)]
    [InlineData("segments", "[{\"repeat\": 2000000000, \"segments\": [{\"repeat\": 2000000000, \"segments\": [{}]}]}]", HttpStatusCode.OK)]
    [InlineData("checks", "[{}]", HttpStatusCode.UnprocessableEntity)]
    [InlineData("entry", "{\"headingMagDeg\": 0, \"altitudeFt\": -1e9, \"airspeedKt\": 0}", HttpStatusCode.OK)]
    public async Task A_hostile_value_is_refused_or_kept_as_a_problem(string member, string value, HttpStatusCode status)
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        var node = JsonSerializer.SerializeToNode(Draft("racetrack", 30), EngineJson.Default.DrillTemplate)!.AsObject();
        node[member] = "\u0001here";
        var body = node.ToJsonString().Replace("\"\\u0001here\"", value, StringComparison.Ordinal);
        var answer = await chief.PutAsync("/api/v1/drills/racetrack/draft?unfinished=true", Json(body), Cancel);
        Assert.Equal(status, answer.StatusCode);
        if (status != HttpStatusCode.OK)
            return;
        Assert.NotEmpty(
            JsonDocument.Parse(await answer.Content.ReadAsStringAsync(Cancel)).RootElement.GetProperty("problems").EnumerateArray()
        );
        Assert.True((await chief.GetAsync("/api/v1/drills", Cancel)).IsSuccessStatusCode);
    }

    [Theory]
    [InlineData("3")]
    [InlineData("\"three\"")]
    [InlineData("W/\"3\"")]
    [InlineData("\"-1\"")]
    [InlineData("\"99999999999\"")]
    [InlineData("*")]
    public async Task A_revision_that_is_none_is_refused_with_how_to_write_it(string ifMatch)
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        using var request = new HttpRequestMessage(HttpMethod.Put, "/api/v1/drills/racetrack/draft")
        {
            Content = Body(Draft("racetrack", 30)),
        };
        Assert.True(request.Headers.TryAddWithoutValidation("If-Match", ifMatch));
        var problem = await (await chief.SendAsync(request, Cancel)).ProblemAsync(HttpStatusCode.BadRequest);
        Assert.Contains("in quotes", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_revision_is_the_tag_of_the_answer_and_saving_the_same_again_makes_no_new_one()
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        var made = await chief.PostAsync("/api/v1/drills?unfinished=true", Body(Draft("tagged", 30)), Cancel);
        Assert.Equal((HttpStatusCode.Created, "\"1\""), (made.StatusCode, made.Headers.ETag?.Tag));
        var again = await chief.PutAsync("/api/v1/drills/tagged/draft?unfinished=true", Body(Draft("tagged", 30)), Cancel);
        Assert.Equal("\"1\"", again.Headers.ETag?.Tag);
        Assert.Equal("\"1\"", (await chief.GetAsync("/api/v1/drills/tagged/draft", Cancel)).Headers.ETag?.Tag);
    }

    private static StringContent Json(string json) => new(json, new MediaTypeHeaderValue("application/json"));
}
