using System.Diagnostics;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>How often a request takes a connection: once for who asks, and once for all of its work.</summary>
public sealed class OneConnectionTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("/api/v1/me")]
    [InlineData("/api/v1/attempts")]
    [InlineData("/api/v1/assignments")]
    [InlineData("/api/v1/students/{0}/progress")]
    [InlineData("/api/v1/students/{0}/record")]
    public async Task A_request_takes_a_connection_for_its_person_and_one_for_its_work(string path)
    {
        var http = await app.HttpAsync(SchoolsFixture.Chief);
        var trace = ActivityTraceId.CreateRandom();
        using var request = new HttpRequestMessage(HttpMethod.Get, string.Format(null, path, app.IdOf(SchoolsFixture.Student)));
        request.Headers.Add("traceparent", $"00-{trace}-{ActivitySpanId.CreateRandom()}-01");
        using var opened = new OpenedConnections(trace);
        using var response = await http.SendAsync(request, Cancel);
        response.EnsureSuccessStatusCode();
        Assert.Equal(2, opened.Count);
    }

    /// <summary>Counts what EF Core opens within one trace; other tests run meanwhile.</summary>
    private sealed class OpenedConnections : IObserver<DiagnosticListener>, IObserver<KeyValuePair<string, object?>>, IDisposable
    {
        private readonly ActivityTraceId trace;
        private readonly List<IDisposable> subscriptions = [];
        private int count;

        public OpenedConnections(ActivityTraceId trace)
        {
            this.trace = trace;
            subscriptions.Add(DiagnosticListener.AllListeners.Subscribe(this));
        }

        public int Count => count;

        public void OnNext(DiagnosticListener value)
        {
            if (value.Name == "Microsoft.EntityFrameworkCore")
                subscriptions.Add(value.Subscribe(this));
        }

        public void OnNext(KeyValuePair<string, object?> value)
        {
            if (value.Key == RelationalEventId.ConnectionOpened.Name && Activity.Current?.TraceId == trace)
                Interlocked.Increment(ref count);
        }

        public void OnCompleted() { }

        public void OnError(Exception error) { }

        public void Dispose() => subscriptions.ForEach(s => s.Dispose());
    }
}
