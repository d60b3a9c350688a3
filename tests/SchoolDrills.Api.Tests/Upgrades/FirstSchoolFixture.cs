using System.Net.Http.Headers;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Upgrades;

/// <summary>The app over a database that the first version left, with its one school; see the README beside.</summary>
public sealed class FirstSchoolFixture : ApiFixture
{
    public const string Password = "attitude plus power";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>Each table's rows as they were before the host upgraded them.</summary>
    internal Dictionary<string, List<string>> Before { get; private set; } = [];

    protected override string Dump => "first-schema.sql.gz";

    public async Task<SchoolDrillsClient> AsAsync(string person) => new(await HttpAsync(person));

    public async Task<HttpClient> HttpAsync(string person)
    {
        var http = CreateClient();
        var session = await new SchoolDrillsClient(http).SignInAsync(new SignIn($"{person}@oldridge.example", Password), Cancel);
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", session.AccessToken);
        return http;
    }

    internal static async Task<Dictionary<string, List<string>>> RowsAsync(RawSql owner)
    {
        var rows = new Dictionary<string, List<string>>();
        foreach (var table in await owner.TablesAsync())
            rows[table] = await owner.ReadAsync($"select to_jsonb(t)::text from \"{table}\" t");
        return rows;
    }

    protected override async Task LookBeforeStartAsync()
    {
        await using var owner = await RawSql.OpenAsync(Database.OwnerConnectionString);
        Before = await RowsAsync(owner);
    }
}
