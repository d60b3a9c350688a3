using System.Net;
using System.Net.Http.Headers;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.TestHost;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>
/// Every operation of the API's own reference, by everybody who could ask: it says yes, or no, and how. An endpoint without a line here
/// fails, so that nobody adds one without saying whose it is.
/// </summary>
public sealed partial class EndpointMatrixTests(EndpointMatrixTests.School app) : IClassFixture<EndpointMatrixTests.School>
{
    /// <summary>
    /// Who asks about the student's things, in columns: a stranger, the student, another student, an instructor, the chief, the chief of
    /// another school; then a program with the chief's token, the chief who gave the password a while ago, and the
    /// chief's cookie, sent by a page of another port. <c>ok</c> is any answer that lets them in: what they sent (an empty body, mostly)
    /// may still be found wanting.
    /// </summary>
    private const string Rows = """
        POST   session                                 ok  ok  ok  ok  ok  ok  ok  ok  403
        POST   session/refresh                         401 401 401 401 401 401 401 401 403
        POST   session/switch                          401 404 404 404 404 404 403 404 403
        GET    session/confirm                         401 ok  ok  ok  ok  ok  403 403 ok
        POST   session/confirm                         401 ok  ok  ok  ok  ok  403 ok  403
        DELETE session                                 401 ok  ok  ok  ok  ok  403 ok  403
        POST   first-run                               ok  ok  ok  ok  ok  ok  ok  ok  403
        POST   links/look                              404 404 404 404 404 404 404 404 403
        POST   links/accept                            404 404 404 404 404 404 404 404 403
        POST   password/forgot                         ok  ok  ok  ok  ok  ok  ok  ok  403
        GET    me                                      401 ok  ok  ok  ok  ok  ok  ok  ok
        GET    me/schools                              401 ok  ok  ok  ok  ok  403 ok  ok
        GET    me/account                              401 ok  ok  ok  ok  ok  403 ok  ok
        PUT    me/account                              401 ok  ok  ok  ok  ok  403 ok  403
        GET    me/notices                              401 ok  ok  ok  ok  ok  ok  ok  ok
        GET    me/notices/count                        401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   me/notices/read                         401 ok  ok  ok  ok  ok  ok  ok  403
        PUT    me/password                             401 ok  ok  ok  ok  ok  403 ok  403
        POST   me/second-factor                        401 ok  ok  ok  ok  ok  403 403 403
        POST   me/second-factor/confirm                401 ok  ok  ok  ok  ok  403 403 403
        POST   me/second-factor/remove                 401 ok  ok  ok  ok  ok  403 403 403
        POST   me/tokens                               401 ok  ok  ok  ok  ok  403 403 403
        GET    people                                  401 403 403 ok  ok  ok  ok  ok  ok
        POST   people                                  401 403 403 403 ok  ok  403 403 403
        POST   people/invitations                      401 403 403 403 ok  ok  403 403 403
        PUT    people/{id}                             401 403 403 403 ok  404 403 403 403
        POST   people/{id}/invitation                  401 403 403 403 ok  404 403 403 403
        DELETE people/{id}/invitation                  401 403 403 403 ok  404 403 403 403
        POST   people/{id}/reset-link                  401 403 403 403 ok  404 403 403 403
        POST   people/{id}/deactivate                  401 403 403 403 ok  404 403 403 403
        POST   people/{id}/reactivate                  401 403 403 403 ok  404 403 403 403
        DELETE people/{id}/second-factor               401 403 403 403 ok  404 403 403 403
        PUT    people/{id}/legal-hold                  401 403 403 403 ok  404 403 403 403
        POST   people/{id}/erase                       401 403 403 403 ok  404 403 403 403
        GET    people/{id}/sessions                    401 ok  404 404 ok  404 403 ok  ok
        DELETE people/{id}/sessions/{sessionId}        401 ok  404 404 ok  404 403 ok  403
        GET    people/{id}/tokens                      401 ok  404 404 ok  404 403 ok  ok
        DELETE people/{id}/tokens/{tokenId}            401 ok  404 404 ok  404 403 ok  403
        GET    people/{id}/data                        401 ok  404 404 ok  404 403 403 ok
        GET    school/audit                            401 403 403 403 ok  ok  403 ok  ok
        GET    school/audit/export                     401 403 403 403 ok  ok  403 403 ok
        GET    school/records                          401 403 403 403 ok  ok  ok  ok  ok
        PUT    school/records                          401 403 403 403 ok  ok  403 403 403
        GET    school/export                           401 403 403 403 ok  ok  403 403 ok
        GET    school/areas                            401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   school/areas                            401 403 403 403 ok  ok  ok  ok  403
        DELETE school/areas/{id}                       401 403 403 403 404 404 404 404 403
        GET    school/stages                           401 403 403 ok  ok  ok  ok  ok  ok
        PUT    school/stages                           401 403 403 403 ok  ok  ok  ok  403
        GET    school/readiness                        401 403 403 ok  ok  ok  ok  ok  ok
        GET    school/rescoring                        401 403 403 403 ok  ok  ok  ok  ok
        POST   school/rescoring                        401 403 403 403 ok  ok  ok  ok  403
        POST   school/rescoring/stop                   401 403 403 403 ok  ok  ok  ok  403
        GET    school/rescoring/changes                401 403 403 403 ok  ok  ok  ok  ok
        GET    school/status                           401 403 403 403 ok  ok  ok  ok  ok
        GET    school/overview.csv                     401 403 403 403 ok  ok  ok  ok  ok
        GET    school/attempts.csv                     401 403 403 403 ok  ok  403 403 ok
        GET    school/attempts.json                    401 403 403 403 ok  ok  403 403 ok
        GET    school/settings                         401 ok  ok  ok  ok  ok  ok  ok  ok
        PUT    school/settings                         401 403 403 403 ok  ok  ok  ok  403
        GET    drills                                  401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   drills                                  401 403 403 403 ok  ok  ok  ok  403
        GET    drills/{slug}                           401 ok  ok  ok  ok  ok  ok  ok  ok
        GET    drills/{slug}/timeline                  401 ok  ok  ok  ok  ok  ok  ok  ok
        GET    drills/{slug}/picture                   401 ok  ok  ok  ok  ok  ok  ok  ok
        GET    drills/{slug}/example                   401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   drills/{slug}/plan                      401 ok  ok  ok  ok  ok  ok  ok  403
        PUT    drills/{slug}/draft                     401 403 403 403 ok  ok  ok  ok  403
        GET    drills/{slug}/draft                     401 403 403 403 404 404 404 404 404
        DELETE drills/{slug}/draft                     401 403 403 403 404 404 404 404 403
        POST   drills/{slug}/draft/trial               401 403 403 403 404 404 404 404 403
        GET    drills/{slug}/draft/revisions           401 403 403 403 ok  ok  ok  ok  ok
        GET    drills/{slug}/draft/revisions/{number}  401 403 403 403 404 404 404 404 404
        POST   drills/{slug}/publish                   401 403 403 403 ok  ok  ok  ok  403
        POST   drills/{slug}/retire                    401 403 403 403 ok  ok  ok  ok  403
        GET    drill-template.schema.json              ok  ok  ok  ok  ok  ok  ok  ok  ok
        GET    standards                               401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   standards                               401 403 403 403 ok  ok  ok  ok  403
        GET    standards/editions                      401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   standards/{slug}/use                    401 403 403 403 404 404 404 404 403
        POST   standards/{slug}/retire                 401 403 403 403 404 404 404 404 403
        POST   standards/{slug}/reinstate              401 403 403 403 404 404 404 404 403
        GET    aircraft                                401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   aircraft                                401 403 403 403 ok  ok  ok  ok  403
        GET    aircraft/versions                       401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   aircraft/{slug}/retire                  401 403 403 403 404 404 404 404 403
        GET    assignments                             401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   assignments                             401 403 403 ok  ok  ok  ok  ok  403
        GET    assignments/before                      401 403 403 ok  ok  ok  ok  ok  ok
        POST   assignments/cancel                      401 403 403 ok  ok  ok  ok  ok  403
        GET    assignments/{id}                        401 ok  404 ok  ok  404 ok  ok  ok
        PUT    assignments/{id}/plan                   401 ok  404 ok  ok  404 ok  ok  403
        GET    assignments/{id}/flight-logs            401 ok  404 ok  ok  404 ok  ok  ok
        PUT    assignments/{id}/flight-logs/{logId}    401 ok  404 ok  ok  404 ok  ok  403
        POST   assignments/{id}/cancel                 401 403 403 ok  ok  404 ok  ok  403
        POST   assignments/{id}/attempts               401 ok  404 ok  ok  404 ok  ok  403
        GET    attempts                                401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   attempts                                401 ok  ok  ok  ok  ok  ok  ok  403
        GET    attempts/{id}                           401 ok  404 ok  ok  404 ok  ok  ok
        GET    attempts/{id}/reports/{reportId}        401 ok  404 ok  ok  404 ok  ok  ok
        GET    attempts/{id}/track                     401 ok  404 ok  ok  404 ok  ok  ok
        GET    attempts/{id}/track/original            401 ok  404 ok  ok  404 ok  ok  ok
        PUT    attempts/{id}/events/{eventId}          401 ok  404 ok  ok  404 ok  ok  403
        PUT    attempts/{id}/load-ratings/{number}     401 ok  404 ok  ok  404 ok  ok  403
        GET    attempts/{id}/flight-logs               401 ok  404 ok  ok  404 ok  ok  ok
        PUT    flight-logs/{id}/shift                  401 403 403 404 404 404 404 404 403
        GET    attempts/{id}/columns                   401 ok  404 ok  ok  404 ok  ok  ok
        PUT    attempts/{id}/columns                   401 ok  404 ok  ok  404 ok  ok  403
        GET    attempts/{id}/boundaries                401 ok  404 ok  ok  404 ok  ok  ok
        PUT    attempts/{id}/boundaries                401 403 403 ok  ok  404 ok  ok  403
        DELETE attempts/{id}/boundaries                401 403 403 ok  ok  404 ok  ok  403
        PUT    attempts/{id}/reading                   401 403 403 ok  ok  404 ok  ok  403
        PUT    attempts/{id}/self-assessment           401 ok  404 403 403 404 403 403 403
        GET    attempts/{id}/grade                     401 ok  404 ok  ok  404 ok  ok  ok
        POST   attempts/{id}/grade                     401 403 403 ok  ok  404 ok  ok  403
        POST   attempts/{id}/grade/amend               401 403 403 ok  ok  404 ok  ok  403
        POST   attempts/{id}/grade/acknowledge         401 ok  404 403 403 404 403 403 403
        GET    attempts/{id}/comparison                401 ok  404 ok  ok  404 ok  ok  ok
        GET    attempts/{id}/comparison/track          401 ok  404 ok  ok  404 ok  ok  ok
        GET    attempts/{id}/example                   401 403 403 ok  ok  404 ok  ok  ok
        PUT    attempts/{id}/example                   401 403 403 ok  ok  404 ok  ok  403
        DELETE attempts/{id}/example                   401 403 403 ok  ok  404 ok  ok  403
        GET    uploads                                 401 ok  ok  ok  ok  ok  ok  ok  ok
        POST   uploads                                 401 ok  ok  ok  ok  ok  ok  ok  403
        GET    uploads/{id}/check                      401 ok  404 404 404 404 404 404 404
        POST   uploads/{id}/attempt                    401 ok  404 404 404 404 404 404 403
        DELETE uploads/{id}                            401 ok  404 404 404 404 404 404 403
        POST   score-preview                           401 ok  ok  ok  ok  ok  ok  ok  403
        GET    students                                401 403 403 ok  ok  ok  ok  ok  ok
        GET    search                                  401 ok  ok  ok  ok  ok  ok  ok  ok
        GET    students/{id}/progress                  401 ok  404 ok  ok  404 ok  ok  ok
        GET    students/{id}/load                      401 ok  404 ok  ok  404 ok  ok  ok
        GET    students/{id}/weak-segments             401 ok  404 ok  ok  404 ok  ok  ok
        GET    students/{id}/next-drill                401 ok  404 ok  ok  404 ok  ok  ok
        GET    school/overview                         401 403 403 403 ok  ok  ok  ok  ok
        GET    school/start                            401 403 403 403 ok  ok  ok  ok  ok
        PUT    school/start                            401 403 403 403 ok  ok  ok  ok  403
        GET    school/sample-recording                 401 ok  ok  ok  ok  ok  ok  ok  ok
        GET    school/grading-agreement                401 403 403 403 ok  ok  ok  ok  ok
        GET    students/{id}/notes                     401 403 403 ok  ok  404 ok  ok  ok
        POST   students/{id}/notes                     401 403 403 ok  ok  404 ok  ok  403
        PUT    notes/{id}                              401 403 403 404 404 404 404 404 403
        DELETE notes/{id}                              401 403 403 404 404 404 404 404 403
        GET    desk                                    401 403 403 ok  ok  ok  ok  ok  ok
        GET    students/{id}/record                    401 ok  404 ok  ok  404 ok  ok  ok
        """;

    /// <summary>Asked in this order: who may change something comes last.</summary>
    private static readonly (string Who, int Column)[] Askers =
    [
        ("", 0),
        (SchoolsFixture.OtherStudent, 2),
        (SchoolsFixture.FarChief, 5),
        (SchoolsFixture.Student, 1),
        (SchoolsFixture.Instructor, 3),
        (Program, 6),
        (ChiefOfAWhileAgo, 7),
        (PageElsewhere, 8),
        (SchoolsFixture.Chief, 4),
    ];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static IEnumerable<(string Operation, string[] Answers)> Table =>
        Rows.Split('\n')
            .Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Select(cells => ($"{cells[0]} {cells[1]}", cells[2..]));

    [Fact]
    public async Task Every_operation_of_the_reference_has_its_line_and_every_line_its_operation()
    {
        var served = await OperationsAsync();
        var lines = Table.Select(r => r.Operation).ToList();
        Assert.True(
            !served.Except(lines).Any(),
            $"Say in {nameof(EndpointMatrixTests)} who may: {string.Join(", ", served.Except(lines))}"
        );
        Assert.True(!lines.Except(served).Any(), $"No longer served: {string.Join(", ", lines.Except(served))}");
        Assert.Equal(lines.Count, lines.Distinct().Count());
    }

    [Fact]
    public async Task Everybody_gets_the_answer_of_the_table()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var assignmentId = (await (await app.AsAsync(SchoolsFixture.Student)).AttemptAsync(attemptId, Cancel)).AssignmentId!.Value;
        var faults = new List<string>();
        foreach (var (operation, answers) in Table)
        {
            var path = await PathAsync(operation, attemptId, assignmentId);
            foreach (var (who, column) in Askers)
            {
                var status = await AskAsync(who, operation, path);
                var isAsWanted =
                    answers[column] == "ok"
                        ? status is not (401 or 403 or 404 or >= 500)
                        : status.ToString(System.Globalization.CultureInfo.InvariantCulture) == answers[column];
                if (!isAsWanted)
                    faults.Add($"{operation} by {(who.Length == 0 ? "a stranger" : who)}: {status}, wanted {answers[column]}");
            }
        }

        Assert.True(faults.Count == 0, string.Join(Environment.NewLine, faults));
    }

    [Fact]
    public async Task A_token_that_reads_only_changes_nothing_anywhere()
    {
        var made = await (await app.AsAsync(SchoolsFixture.Chief)).CreateApiTokenAsync(new CreateApiToken("reader", "read", 1), Cancel);
        using var http = app.CreateClient();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", made.Token);
        Assert.Equal(HttpStatusCode.OK, (await http.GetAsync("/api/v1/people", Cancel)).StatusCode);
        foreach (var operation in (await OperationsAsync()).Where(o => !o.StartsWith("GET ", StringComparison.Ordinal)))
        {
            var path = await PathAsync(operation, Guid.NewGuid(), Guid.NewGuid());
            using var request = Request(operation, path);
            Assert.Equal((operation, HttpStatusCode.Forbidden), (operation, (await http.SendAsync(request, Cancel)).StatusCode));
        }
    }

    /// <summary>Each request comes from an address of its own: the limits on guessing are another test's.</summary>
    public sealed class School : SchoolsFixture
    {
        protected override void ConfigureWebHost(IWebHostBuilder builder)
        {
            base.ConfigureWebHost(builder);
            builder.ConfigureTestServices(services => services.AddSingleton<IStartupFilter, ManyAddresses>());
        }
    }

    private sealed class ManyAddresses : IStartupFilter
    {
        private int count;

        public Action<IApplicationBuilder> Configure(Action<IApplicationBuilder> next) =>
            app =>
            {
                app.Use(
                    (http, rest) =>
                    {
                        http.Connection.RemoteIpAddress = new IPAddress(0x0A00_0000u + (uint)Interlocked.Increment(ref count));
                        return rest(http);
                    }
                );
                next(app);
            };
    }
}
