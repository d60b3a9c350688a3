using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Microsoft.JSInterop;

namespace SchoolDrills.Cockpit.Storage;

/// <summary>What this device keeps. A write has happened when its task is done.</summary>
internal sealed class DeviceStore(IJSRuntime js)
{
    private static readonly CockpitJson Json = CockpitJson.Default;

    private Task<IJSObjectReference>? module;

    public Task SaveAsync(StoredFlight flight) => PutAsync("flights", flight.Id.ToString(), flight, Json.StoredFlight);

    public Task SaveAsync(StoredLog log) => PutAsync("logs", log.Id.ToString(), log, Json.StoredLog);

    public Task SaveAsync(StoredSending sending) => PutAsync("sending", sending.Id.ToString(), sending, Json.StoredSending);

    public Task SaveAsync(StoredMark mark) => PutAsync("marks", mark.Id.ToString(), mark, Json.StoredMark);

    public Task SaveAsync(CockpitSettings settings) => PutAsync("settings", "settings", settings, Json.CockpitSettings);

    public Task SaveAsync(StoredPerson person) => PutAsync("settings", "person", person, Json.StoredPerson);

    public Task SaveClockAsync(double aheadS) => PutAsync("settings", "clock", aheadS, Json.NullableDouble);

    public Task<IReadOnlyList<StoredFlight>> FlightsAsync() => AllAsync("flights", Json.StoredFlight);

    public Task<IReadOnlyList<StoredLog>> LogsAsync() => AllAsync("logs", Json.StoredLog);

    public async Task<StoredSending> SendingAsync(Guid logId) =>
        await GetAsync("sending", logId.ToString(), Json.StoredSending) ?? new(logId);

    public Task<IReadOnlyList<StoredMark>> MarksAsync() => AllAsync("marks", Json.StoredMark);

    public Task<IReadOnlyList<StoredWork>> WorkAsync() => AllAsync("work", Json.StoredWork);

    public async Task<CockpitSettings> SettingsAsync() => await GetAsync("settings", "settings", Json.CockpitSettings) ?? new();

    public Task<StoredPerson?> PersonAsync() => GetAsync("settings", "person", Json.StoredPerson);

    public Task<double?> ClockAsync() => GetAsync("settings", "clock", Json.NullableDouble);

    /// <summary>These assignments instead of those that were kept.</summary>
    public async Task ReplaceWorkAsync(IEnumerable<StoredWork> work)
    {
        var rows = work.Select(w => new Row(w.Assignment.Id.ToString(), JsonSerializer.Serialize(w, Json.StoredWork))).ToArray();
        await (await ModuleAsync()).InvokeVoidAsync("replace", "work", rows);
    }

    /// <summary>Forgets a flight that the server has.</summary>
    public async Task ForgetAsync(Guid flightId, IReadOnlyList<Guid> logIds, IReadOnlyList<Guid> markIds)
    {
        var store = await ModuleAsync();
        await store.InvokeVoidAsync("dropPositions", flightId.ToString());
        await store.InvokeVoidAsync("remove", "marks", markIds.Select(id => id.ToString()).ToArray());
        var logs = logIds.Select(id => id.ToString()).ToArray();
        await store.InvokeVoidAsync("remove", "sending", logs);
        await store.InvokeVoidAsync("remove", "logs", logs);
        await store.InvokeVoidAsync("remove", "flights", new[] { flightId.ToString() });
    }

    /// <summary>A flight's positions as a CSV in the server's time; the same bytes each time.</summary>
    public async Task<byte[]> CsvAsync(StoredFlight flight) =>
        await (await ModuleAsync()).InvokeAsync<byte[]>("csv", flight.Id.ToString(), (flight.ClockAheadS ?? 0) * 1000);

    public async Task<int> PositionsAsync(Guid flightId) =>
        await (await ModuleAsync()).InvokeAsync<int>("countPositions", flightId.ToString());

    /// <summary>Asks the browser to keep all this even when space runs short; whether it promises to.</summary>
    public async Task<bool> KeepAsync() => await (await ModuleAsync()).InvokeAsync<bool>("keep");

    private async Task PutAsync<T>(string store, string id, T value, JsonTypeInfo<T> type) =>
        await (await ModuleAsync()).InvokeVoidAsync("put", store, id, JsonSerializer.Serialize(value, type));

    private async Task<T?> GetAsync<T>(string store, string id, JsonTypeInfo<T> type) =>
        await (await ModuleAsync()).InvokeAsync<string?>("get", store, id) is { } json ? Read(json, type) : default;

    private async Task<IReadOnlyList<T>> AllAsync<T>(string store, JsonTypeInfo<T> type) =>
        [.. (await (await ModuleAsync()).InvokeAsync<string[]>("all", store)).Select(json => Read(json, type)).OfType<T>()];

    /// <summary>Null for what an older page kept in another form.</summary>
    private static T? Read<T>(string json, JsonTypeInfo<T> type)
    {
        try
        {
            return JsonSerializer.Deserialize(json, type);
        }
        catch (JsonException)
        {
            return default;
        }
    }

    private Task<IJSObjectReference> ModuleAsync() => module ??= js.InvokeAsync<IJSObjectReference>("import", "./js/store.js").AsTask();

    private sealed record Row(string Id, string Json);
}
