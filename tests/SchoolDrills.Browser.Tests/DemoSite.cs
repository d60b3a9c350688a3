using System.Net.Http.Headers;
using SchoolDrills.Api.Tests;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Browser.Tests;

/// <summary>The demo school's site on a port, once all its recordings are scored and graded as far as they are to be.</summary>
public sealed class DemoSite : ApiFixture
{
    public const string Password = "drills-demo";

    private const int FlightsOfTheDemo = 63;

    private static readonly string[] GradeStates = ["none", "draft", "signed", "acknowledged"];

    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5),
        Glance = TimeSpan.FromSeconds(1);

    public DemoSite() => UseKestrel(0);

    protected override bool RunsJobs => true;

    protected override bool SeedsDemo => true;

    public Uri Address => ClientOptions.BaseAddress;

    public static string EmailOf(string person) => $"{person}@tussockplains.example";

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        var chief = await AsAsync("chief");
        using var patience = new CancellationTokenSource(Patience);
        using var glances = new PeriodicTimer(Glance);
        while (!IsComplete(await AttemptsAsync(chief, patience.Token)))
            await glances.WaitForNextTickAsync(patience.Token);
    }

    /// <summary>The API as one of the demo's people.</summary>
    public async Task<SchoolDrillsClient> AsAsync(string person)
    {
        var http = CreateClient();
        var tokens = await new SchoolDrillsClient(http).SignInAsync(
            new SignIn(EmailOf(person), Password),
            TestContext.Current.CancellationToken
        );
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", tokens.AccessToken);
        return new SchoolDrillsClient(http);
    }

    /// <summary>Every attempt that a person may see, page by page.</summary>
    public static async Task<IReadOnlyList<AttemptSummary>> AttemptsAsync(SchoolDrillsClient api, CancellationToken ct)
    {
        var all = new List<AttemptSummary>();
        for (var page = 1; ; page++)
        {
            var next = await api.AttemptsAsync(page: page, ct: ct);
            all.AddRange(next.Items);
            if (next.Items.Count == 0 || all.Count >= next.Total)
                return all;
        }
    }

    private static bool IsComplete(IReadOnlyList<AttemptSummary> attempts) =>
        attempts.Count >= FlightsOfTheDemo
        && attempts.All(a => a.Status is AttemptStatus.Scored or AttemptStatus.Unscorable)
        && GradeStates.All(state => attempts.Any(a => a.GradeState == state));
}

[CollectionDefinition]
public sealed class AtTheDemo : ICollectionFixture<DemoSite>;
