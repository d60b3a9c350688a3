using System.Globalization;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text;
using Microsoft.Playwright;
using SchoolDrills.Contracts;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;
using UglyToad.PdfPig;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>The briefing card as the printer gets it.</summary>
[Collection<AtTheDemo>]
public sealed class CardTests(DemoSite site, Chromium chromium)
{
    /// <summary>Parts of the card that are cut off, and the size of its type.</summary>
    private const string Fit = """
        () => {
          const card = document.querySelector('.card');
          return [
            card.scrollHeight - card.clientHeight,
            Math.max(...[...card.querySelectorAll('td, dd, p, h1')].map(e => e.scrollWidth - e.clientWidth)),
            parseFloat(card.style.getPropertyValue('--type')),
          ];
        }
        """;

    private static readonly (string Slug, double WidthMm, double HeightMm)[] Papers =
    [
        ("a4", 210, 297),
        ("letter", 215.9, 279.4),
        ("a5", 148, 210),
    ];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("a4")]
    [InlineData("letter")]
    [InlineData("a5")]
    public async Task Every_drill_of_the_catalogue_is_on_one_sheet_whole(string paper)
    {
        await using var instructor = await SignedInAsync("instructor");
        var drills = (await (await site.AsAsync("instructor")).DrillsAsync(Cancel)).Where(d => d.State == "published").ToList();
        Assert.True(drills.Count > 20);
        foreach (var drill in drills)
        {
            await instructor.GoAsync($"/drills/{drill.Slug}/card?paper={paper}");
            await WholeAsync(instructor, paper, drill.Title, leastPt: 6.5);
        }

        Assert.Empty(instructor.Faults);
    }

    [Theory]
    [InlineData("a4", 6.5)]
    [InlineData("letter", 6.5)]
    [InlineData("a5", 5)]
    public async Task A_drill_of_sixty_segments_with_checks_and_tasks_is_on_one_sheet_whole(string paper, double leastPt)
    {
        var slug = $"sixty-segments-{paper}";
        using var chief = await ChiefAsync();
        var template = Catalogue.Templates.Single(t => t.Slug == "box-circles");
        var sixty = template with
        {
            Slug = slug,
            Title = "Sixty segments",
            Segments =
            [
                new Segment
                {
                    Name = "Lap",
                    Repeat = 30,
                    Segments =
                    [
                        new()
                        {
                            Name = "Up",
                            TurnDeg = 90,
                            ClimbFt = 250,
                        },
                        new()
                        {
                            Name = "Down",
                            TurnDeg = -90,
                            ClimbFt = -250,
                        },
                    ],
                },
            ],
        };
        using var made = await chief.PostAsJsonAsync("/api/v1/drills", sixty, EngineJson.Default.DrillTemplate, Cancel);
        made.EnsureSuccessStatusCode();
        (await chief.PostAsync($"/api/v1/drills/{slug}/publish", null, Cancel)).EnsureSuccessStatusCode();
        try
        {
            await using var instructor = await SignedInAsync("instructor");
            await instructor.GoAsync($"/drills/{slug}/card?paper={paper}");
            var text = await WholeAsync(instructor, paper, "Sixty segments", leastPt);
            Assert.Contains("29:30", text, StringComparison.Ordinal);
        }
        finally
        {
            (await chief.PostAsync($"/api/v1/drills/{slug}/retire", null, Cancel)).EnsureSuccessStatusCode();
        }
    }

    [Fact]
    public async Task The_instructor_has_the_questions_and_the_student_only_their_times_whatever_the_address_says()
    {
        await using var instructor = await SignedInAsync("instructor");
        await instructor.GoAsync("/drills/box-circles/card");
        var asked = await WholeAsync(instructor, "a4", "Box with circles", 8);
        Assert.Contains(Squeezed("What is the reciprocal of 240?"), asked, StringComparison.Ordinal);
        Assert.Contains(Squeezed("Answer: 060"), asked, StringComparison.Ordinal);
        await instructor.Link("Student’s copy").ClickAsync();
        await Expect(instructor.Page.Locator(".card")).ToContainTextAsync("Student’s copy");
        NoQuestions(await WholeAsync(instructor, "a4", "Box with circles", 8));

        await using var student = await SignedInAsync("student");
        await student.GoAsync("/drills/box-circles/card?copy=instructor");
        var told = await WholeAsync(student, "a4", "Box with circles", 8);
        NoQuestions(told);
        Assert.Contains(Squeezed("Load task"), told, StringComparison.Ordinal);
        // Not in the page either, nor in what came with it.
        NoQuestions(await student.Page.ContentAsync());
        await Expect(student.Link("Instructor’s copy")).ToHaveCountAsync(0);

        static void NoQuestions(string text)
        {
            foreach (var word in (string[])["reciprocal of 240", "one one eight", "28 gallons", "Answer"])
                Assert.DoesNotContain(Squeezed(word), Squeezed(text), StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public async Task A_planned_assignment_has_the_day_on_its_card_and_a_code_that_opens_it_after_signing_in()
    {
        var api = await site.AsAsync("student");
        var open = (await api.AssignmentsAsync(ct: Cancel)).Last(a => a.State is "open" or "overdue");
        var revision = (await api.AssignmentAsync(open.Id, Cancel)).Plan?.Revision ?? 0;
        var plan = new PlanDrill(
            "tussock-four",
            QnhHpa: 1009,
            OatC: 7,
            Start: new LatLon(-43.7, 172.1),
            FloorFt: 2500,
            Winds: [new WindLevel(3000, 290, 15), new WindLevel(5000, 300, 25)],
            AreaName: "Plains East"
        );
        await api.SavePlanAsync(open.Id, new SavePlan(plan, revision), Cancel);

        await using var student = await SignedInAsync("student");
        await student.GoAsync($"/assignments/{open.Id}/card?paper=a5");
        var text = await WholeAsync(student, "a5", open.DrillTitle, 6.5);
        foreach (
            var words in (string[])
                ["3,000 ft 290° 15 kt, 5,000 ft 300° 25 kt", "1009 hPa, 7 °C", "43°42.0′S 172°06.0′E, Plains East", "Safety pilot"]
        )
        {
            Assert.Contains(Squeezed(words), Squeezed(text), StringComparison.Ordinal);
        }

        var address = new Uri(site.Address, $"/assignments/{open.Id}").ToString();
        await Expect(student.Page.GetByRole(AriaRole.Img, new() { Name = $"Code of the page {address}" })).ToBeVisibleAsync();

        await using var phone = await chromium.VisitAsync(site.Address, Screen.PhoneAtNight);
        await phone.Page.GotoAsync(address);
        await phone.Page.GetByLabel("Email").FillAsync(DemoSite.EmailOf("student"));
        await phone.Page.GetByLabel("Password").FillAsync(DemoSite.Password);
        await phone.Button("Sign in").ClickAsync();
        await phone.SettleAsync();
        Assert.Equal($"/assignments/{open.Id}", phone.Path);
    }

    /// <summary>Prints the card; it is one page of its paper, nothing of it is cut off and its type can be read. Its text.</summary>
    private static async Task<string> WholeAsync(Visitor visitor, string paper, string title, double leastPt)
    {
        await Expect(visitor.Page.Locator(".card[data-fits]")).ToBeVisibleAsync();
        var pdf = await visitor.Page.PdfAsync(new() { PreferCSSPageSize = true });
        await visitor.Page.EmulateMediaAsync(new() { Media = Media.Print });
        var fit = await visitor.Page.EvaluateAsync<double[]>(Fit);
        await visitor.Page.EmulateMediaAsync(new() { Media = Media.Null });
        using var document = PdfDocument.Open(pdf);
        var (_, widthMm, heightMm) = Papers.Single(p => p.Slug == paper);
        var page = document.GetPage(1);
        Assert.True(document.NumberOfPages == 1, $"{title} on {paper}: {document.NumberOfPages} pages.");
        Assert.Equal(widthMm, page.Width * 25.4 / 72, 0.5);
        Assert.Equal(heightMm, page.Height * 25.4 / 72, 0.5);
        Assert.True(fit[0] <= 1 && fit[1] <= 1, $"{title} on {paper}: {fit[0]} px of the height and {fit[1]} of a width are cut off.");
        Assert.True(fit[2] >= leastPt, string.Create(CultureInfo.InvariantCulture, $"{title} on {paper}: type of {fit[2]} pt."));
        // Letters in the order in which they were written.
        var text = Squeezed(page.Text);
        Assert.Contains(Squeezed(title), text, StringComparison.Ordinal);
        return text;
    }

    /// <summary>Without blanks: a PDF has letters at places, and where words end is a guess.</summary>
    private static string Squeezed(string text) => new StringBuilder(text).Replace(" ", "").Replace("\u00A0", "").ToString();

    private async Task<HttpClient> ChiefAsync()
    {
        var http = site.CreateClient();
        var tokens = await new SchoolDrillsClient(http).SignInAsync(new SignIn(DemoSite.EmailOf("chief"), DemoSite.Password), Cancel);
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", tokens.AccessToken);
        return http;
    }

    private async Task<Visitor> SignedInAsync(string person)
    {
        var visitor = await chromium.VisitAsync(site.Address, Screen.Desk);
        await visitor.SignInAsync(DemoSite.EmailOf(person), DemoSite.Password);
        return visitor;
    }
}
