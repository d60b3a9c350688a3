using System.Collections.Concurrent;
using System.Text.RegularExpressions;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Browser.Tests;

/// <summary>Every page as each role sees it, large and light, and small and dark.</summary>
[Collection<AtTheDemo>]
public sealed partial class EveryPageTests(DemoSite site, Chromium chromium)
{
    private const string Overhang = """
        () => [...document.querySelectorAll('body *')]
          .filter(e => document.documentElement.scrollWidth > document.documentElement.clientWidth
            && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
          .map(e => `${e.tagName.toLowerCase()}.${e.className} ends at ${Math.round(e.getBoundingClientRect().right)} px`)
          .slice(0, 5)
        """;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public static TheoryData<string, string> PeopleAndScreens =>
        new MatrixTheoryData<string, string>(["stranger", "student", "instructor", "chief"], ["desk", "phone at night"]);

    [Theory]
    [MemberData(nameof(PeopleAndScreens))]
    public async Task No_page_shuts_anybody_out_or_is_wider_than_its_screen(string person, string screen)
    {
        var isStranger = person == "stranger";
        await using var visitor = await chromium.VisitAsync(site.Address, screen == "desk" ? Screen.Desk : Screen.PhoneAtNight);
        if (!isStranger)
            await visitor.SignInAsync(DemoSite.EmailOf(person), DemoSite.Password);
        var faults = new List<string>();
        foreach (
            var path in isStranger
                ? ["/sign-in", "/sign-in?failed=1", "/sign-in/step", "/forgot", "/welcome?token=none"]
                : await PathsAsync(person)
        )
        {
            if (isStranger)
                await visitor.Page.GotoAsync(path);
            else
                await visitor.GoAsync(path);
            var axe = await visitor.Page.RunAxe();
            faults.AddRange(
                axe.Violations.SelectMany(v =>
                    v.Nodes.Select(n =>
                        $"{path}: {v.Impact} {v.Id}, {v.Help}: {n.Target} {Start(n.Html)} {string.Join(" ", n.Any.Select(c => c.Message))}"
                    )
                )
            );
            faults.AddRange((await visitor.Page.EvaluateAsync<string[]>(Overhang)).Select(o => $"{path}: {o}"));
        }

        faults.AddRange(visitor.Faults);
        Assert.True(faults.Count == 0, string.Join(Environment.NewLine, faults));
    }

    [Fact]
    public async Task An_address_that_is_nobodys_says_so()
    {
        await using var visitor = await chromium.VisitAsync(site.Address);
        await visitor.SignInAsync(DemoSite.EmailOf("student"), DemoSite.Password);
        var answer = await visitor.Page.GotoAsync("/no-such-page");
        Assert.Equal(404, answer!.Status);
        await Assertions.Expect(visitor.Heading("Page not found")).ToBeVisibleAsync();
        Assert.Empty((await visitor.Page.RunAxe()).Violations.Select(v => v.Id));
    }

    [Fact]
    public async Task A_page_and_its_style_sheets_and_scripts_come_compressed()
    {
        using var http = new HttpClient { BaseAddress = site.Address };
        http.DefaultRequestHeaders.Add("Accept-Encoding", "br");
        List<string> plain = [];
        var page = await LookAsync("/sign-in");
        using var reader = new StreamReader(
            new System.IO.Compression.BrotliStream(await page.ReadAsStreamAsync(Cancel), System.IO.Compression.CompressionMode.Decompress)
        );
        var parts = Asset().Matches(await reader.ReadToEndAsync(Cancel)).Select(m => m.Groups[1].Value).ToList();
        Assert.Contains(parts, p => p.Contains("MudBlazor", StringComparison.Ordinal));
        foreach (var part in parts)
            await LookAsync(part);
        Assert.Empty(plain);

        async Task<HttpContent> LookAsync(string path)
        {
            var answer = await http.GetAsync(path, Cancel);
            Assert.True(answer.IsSuccessStatusCode, path);
            if (!answer.Content.Headers.ContentEncoding.Contains("br"))
                plain.Add(path);
            return answer.Content;
        }
    }

    [GeneratedRegex("(?:href|src)=\"([^\"]+\\.(?:css|js))\"")]
    private static partial Regex Asset();

    [Fact]
    public async Task The_pages_come_with_their_style_sheets_and_scripts()
    {
        await using var visitor = await chromium.VisitAsync(site.Address);
        // Answers still come in while they are looked at.
        var answers = new ConcurrentDictionary<string, int>();
        visitor.Page.Response += (_, answer) => answers[new Uri(answer.Url).AbsolutePath] = answer.Status;
        await visitor.Page.GotoAsync("/sign-in", new() { WaitUntil = WaitUntilState.Load });
        foreach (
            var part in (string[])
                ["/_content/MudBlazor/MudBlazor.min", "/css/theme", "/SchoolDrills.Web", "/_framework/blazor.web", "/js/shell"]
        )
        {
            Assert.Contains(answers, a => a.Key.StartsWith(part, StringComparison.Ordinal) && a.Value == 200);
        }
    }

    private async Task<IReadOnlyList<string>> PathsAsync(string person)
    {
        var api = await site.AsAsync(person);
        var me = await api.MeAsync(Cancel);
        var attempts = (await api.AttemptsAsync(ct: Cancel)).Items;
        var open = (await api.AssignmentsAsync(ct: Cancel)).First(a => a.State == "open");
        // One debrief of each state its grade can be in.
        var work = attempts
            .DistinctBy(a => (a.GradeState, a.Status))
            .Select(a => $"/attempts/{a.AttemptId}")
            .Append($"/assignments/{open.Id}")
            .Append($"/attempts/{attempts.First(a => a.WithinShare is not null).AttemptId}/compare");
        string[] forAll =
        [
            "/",
            "/catalogue",
            "/drills/box-circles",
            "/drills/box-circles/plan",
            $"/assignments/{open.Id}/plan",
            "/drills/box-circles/card",
            $"/assignments/{open.Id}/card?paper=a5",
            "/school/areas",
            "/upload",
            "/try",
            "/account",
            "/notices",
            "/help",
            $"/students/{open.StudentId}/record",
        ];
        string[] forRole = me.Roles.Contains(Roles.Student)
            ? ["/progress"]
            :
            [
                "/assign",
                $"/assign?student={open.StudentId}&drill=box-circles",
                "/students",
                "/people",
                "/standards",
                "/aircraft",
                "/standards/instrument-rating",
                $"/students/{open.StudentId}",
            ];
        string[] forChief = me.Roles.Contains(Roles.Chief)
            ?
            [
                $"/people/{open.StudentId}",
                "/audit",
                "/records",
                "/school",
                "/school/stages",
                "/school/rescoring",
                "/school/grading",
                "/school/status",
                "/start",
                "/people/invite",
                "/standards/new?from=instrument-rating&edition=true",
                "/aircraft/new",
                "/aircraft/new?from=tussock-two&version=true",
            ]
            : [];
        string[] forWriters = me.Roles.Contains(Roles.Chief) ? ["/drills/new", "/drills/box-circles/edit"] : [];
        return [.. forAll, .. forRole, .. forChief, .. forWriters, .. work];
    }

    private static string Start(string html) => html.Length > 160 ? html[..160] : html;
}
