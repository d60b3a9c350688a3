using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.JSInterop;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>The recorder as it stands.</summary>
/// <param name="Trouble">Why no positions come; empty where they do.</param>
/// <param name="Kept">Positions kept since it was switched on or the page opened.</param>
internal sealed record RecorderState(bool Recording, string Trouble, int Kept, DevicePosition? Latest);

/// <summary>Where the device says it is.</summary>
/// <param name="AltM">Height, meters; of the ellipsoid on most devices.</param>
/// <param name="CourseDeg">Over the ground, true.</param>
internal sealed record DevicePosition(
    double AtMs,
    double Lat,
    double Lon,
    double? AltM,
    double? SpeedMps,
    double? CourseDeg,
    double AccuracyM
);

/// <summary>The tablet: its recorder, screen, battery, sounds and voice.</summary>
internal sealed class Device(IJSRuntime js)
{
    private Task<IJSObjectReference>? module;

    public Task RecordAsync(Guid flightId) => DoAsync("record", flightId.ToString());

    /// <summary>Dates positions by the clock that dates the marks.</summary>
    public Task SetClockAsync(DateTimeOffset now) => DoAsync("setClock", now.ToUnixTimeMilliseconds());

    public Task StopRecordingAsync() => DoAsync("stop");

    public async Task<RecorderState> RecorderAsync() =>
        JsonSerializer.Deserialize(await (await ModuleAsync()).InvokeAsync<string>("recorder"), DeviceJson.Default.RecorderState)!;

    /// <summary>Keeps the screen on, or no longer; whether the browser does so.</summary>
    public async Task<bool> AwakeAsync(bool on) => await (await ModuleAsync()).InvokeAsync<bool>("awake", on);

    /// <summary>Charge left, 0 to 1; null where the browser does not tell.</summary>
    public async Task<double?> BatteryAsync() => await (await ModuleAsync()).InvokeAsync<double?>("battery");

    /// <summary>Makes ready for tones; browsers want a touch for it.</summary>
    public Task LoudAsync() => DoAsync("loud");

    public Task ToneAsync(int times) => DoAsync("tone", times);

    public Task SayAsync(string text) => DoAsync("say", text);

    public async Task<bool> HasVoiceAsync() => await (await ModuleAsync()).InvokeAsync<bool>("hasVoice");

    public Task WearAsync(string look) => DoAsync("wear", look);

    public Task SaveFileAsync(string name, byte[] bytes) => DoAsync("saveFile", name, bytes);

    public async Task<bool> OnlineAsync() => await (await ModuleAsync()).InvokeAsync<bool>("online");

    /// <summary>Whether the address is one at which browsers keep pages and tell positions: https.</summary>
    public async Task<bool> SecureAsync() => await (await ModuleAsync()).InvokeAsync<bool>("secure");

    /// <summary>Calls the page's <c>BackOnline</c> when there is a network again, and <c>Seen</c> when it is looked at again.</summary>
    public Task ListenAsync<T>(DotNetObjectReference<T> page)
        where T : class => DoAsync("listen", page);

    private async Task DoAsync(string name, params object?[] arguments) => await (await ModuleAsync()).InvokeVoidAsync(name, arguments);

    private Task<IJSObjectReference> ModuleAsync() => module ??= js.InvokeAsync<IJSObjectReference>("import", "./js/device.js").AsTask();
}

[JsonSourceGenerationOptions(JsonSerializerDefaults.Web)]
[JsonSerializable(typeof(RecorderState))]
internal sealed partial class DeviceJson : JsonSerializerContext;
