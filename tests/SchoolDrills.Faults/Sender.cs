using System.Net;
using SchoolDrills.Contracts;

namespace SchoolDrills.Faults;

/// <summary>A student at a computer: sends recordings until each is accepted, however often it takes.</summary>
internal sealed class Sender : IDisposable
{
    /// <summary>Every so many are sent twice at once, as by a double click.</summary>
    private const int TwiceEach = 7;

    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    private readonly Student student;
    private readonly FaultOptions options;
    private readonly Ledger ledger;
    private readonly FaultMaker faults;
    private readonly HttpClient http;
    private readonly SchoolDrillsClient client;

    public Sender(Uri site, Student student, FaultOptions options, Ledger ledger, FaultMaker faults)
    {
        this.student = student;
        this.options = options;
        this.ledger = ledger;
        this.faults = faults;
        var once = new Witness(ledger) { InnerHandler = new SocketsHttpHandler { UseProxy = false } };
        http = new HttpClient(new RetryHandler { InnerHandler = once }) { BaseAddress = site };
        client = new SchoolDrillsClient(http);
    }

    public void Dispose() => http.Dispose();

    public async Task RunAsync(CancellationToken ct)
    {
        while (ledger.Begin() is var number && number < options.Uploads)
        {
            // Spread over the faults, so that none happens when everything is sent.
            await faults.ReachedAsync((int)((long)number * options.Faults / options.Uploads), ct);
            var recording = Recordings.Make(number);
            try
            {
                await Task.WhenAll(Enumerable.Range(0, number % TwiceEach == 0 ? 2 : 1).Select(_ => SendAsync(recording, ct)));
            }
            catch (OperationCanceledException) when (ct.IsCancellationRequested)
            {
                ledger.GivenUp.Add(number);
                throw;
            }
        }
    }

    private async Task SendAsync(Recording recording, CancellationToken ct)
    {
        for (var again = false; ; again = true)
        {
            if (again)
                ledger.SendAgain();
            try
            {
                if (http.DefaultRequestHeaders.Authorization is null)
                    await School.SignInAsync(http, student.Email, ct);
                using var track = new MemoryStream(recording.Bytes, writable: false);
                var accepted = await client.UploadAsync(
                    student.Assignments[recording.Drill],
                    track,
                    recording.FileName,
                    new AttemptMeta(),
                    ct
                );
                ledger.Accepted.Add(new Accepted(recording.Number, accepted.AttemptId, recording.Sha256, student));
                return;
            }
            catch (ApiProblemException e) when (e.Status == HttpStatusCode.Unauthorized)
            {
                http.DefaultRequestHeaders.Authorization = null;
            }
            catch (Exception e) when (MayPass(e) && !ct.IsCancellationRequested)
            {
                // Refused, broken off or unanswered for too long: sent again, as a student would who reads "try again".
            }
            catch (ApiProblemException e)
            {
                // No fault earns a recording that is good a refusal of its own.
                ledger.Unclear.Add($"{recording.FileName}: {(int)e.Status} {e.Message}");
                ledger.GivenUp.Add(recording.Number);
                return;
            }

            await Task.Delay(Pause, ct);
        }
    }

    private static bool MayPass(Exception e) =>
        e is ApiProblemException refusal
            ? refusal.Status is HttpStatusCode.TooManyRequests or >= HttpStatusCode.InternalServerError || refusal.Is("broken-upload")
            : e is HttpRequestException or IOException or TaskCanceledException;
}
