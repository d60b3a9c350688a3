using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>The forms that the pages post to sign in by cookie; their antiforgery token is checked by the framework.</summary>
internal static class SignInForms
{
    /// <summary>Carries a right password to the next form: protected, for five minutes, and out of scripts' reach.</summary>
    private const string StepCookie = "schooldrills-step";

    private static readonly TimeSpan StepLife = TimeSpan.FromMinutes(5);

    public static void MapSignInForms(this IEndpointRouteBuilder app)
    {
        app.MapPost("/sign-in", SignInAsync).AllowAnonymous().RequireRateLimiting(RateLimits.SignIn).ExcludeFromDescription();
        app.MapPost("/sign-in/step", StepAsync).AllowAnonymous().RequireRateLimiting(RateLimits.SignIn).ExcludeFromDescription();
        app.MapPost("/sign-in/switch", SwitchAsync).RequireAuthorization(Policies.InPerson).ExcludeFromDescription();
        app.MapPost("/sign-out", SignOutAsync).AllowAnonymous().ExcludeFromDescription();
    }

    private static async Task<RedirectHttpResult> SignInAsync(
        HttpContext http,
        SignInService desk,
        IDataProtectionProvider protection,
        [FromForm] string? email,
        [FromForm] string? password,
        [FromForm] string? returnUrl,
        CancellationToken ct
    ) =>
        await GoOnAsync(http, protection, await desk.SignInAsync(new SignIn(email ?? "", password ?? ""), ct), Home(returnUrl), "/sign-in");

    private static async Task<RedirectHttpResult> StepAsync(
        HttpContext http,
        SignInService desk,
        IDataProtectionProvider protection,
        [FromForm] Guid? school,
        [FromForm] string? code,
        [FromForm] string? returnUrl,
        CancellationToken ct
    )
    {
        if (Read(http, protection) is not { } proven)
            return TypedResults.LocalRedirect($"/sign-in?failed=late&returnUrl={Uri.EscapeDataString(Home(returnUrl))}");
        return await GoOnAsync(http, protection, await desk.FinishAsync(proven, school, code, ct), Home(returnUrl), "/sign-in/step");
    }

    private static async Task<RedirectHttpResult> SwitchAsync(
        HttpContext http,
        CurrentPerson me,
        SchoolSwitch schools,
        IDataProtectionProvider protection,
        [FromForm] Guid school,
        CancellationToken ct
    ) =>
        await schools.ToAsync(me, school, null, ct) is { } result
            ? await GoOnAsync(http, protection, result, "/", "/account")
            : TypedResults.LocalRedirect("/account");

    private static async Task<RedirectHttpResult> SignOutAsync(
        HttpContext http,
        SignInService desk,
        [FromForm] string? returnUrl,
        CancellationToken ct
    )
    {
        if (http.Features.Get<CurrentPerson>() is { } me && me.SessionId != Guid.Empty)
            await desk.EndAsync(me.SessionId, ct);
        await http.SignOutAsync(IdentityConstants.ApplicationScheme);
        return TypedResults.LocalRedirect(IsOurs(returnUrl) ? returnUrl! : "/sign-in");
    }

    private static async Task<RedirectHttpResult> GoOnAsync(
        HttpContext http,
        IDataProtectionProvider protection,
        SignInResult result,
        string home,
        string form
    )
    {
        var back = $"returnUrl={Uri.EscapeDataString(home)}";
        switch (result.Outcome)
        {
            case SignInOutcome.Welcome:
                http.Response.Cookies.Delete(StepCookie);
                await http.SignInAsync(
                    IdentityConstants.ApplicationScheme,
                    SchoolClaims.Of(result.Person!, result.Session!, IdentityConstants.ApplicationScheme),
                    new AuthenticationProperties { IsPersistent = true }
                );
                return TypedResults.LocalRedirect(home);
            case SignInOutcome.WhichSchool or SignInOutcome.NeedsCode:
                var kept = Protector(protection)
                    .Protect(JsonSerializer.Serialize(result.Proven!, StepJson.Default.ProvenAddress), StepLife);
                http.Response.Cookies.Append(
                    StepCookie,
                    kept,
                    new CookieOptions
                    {
                        HttpOnly = true,
                        SameSite = SameSiteMode.Strict,
                        Secure = http.Request.IsHttps,
                        MaxAge = StepLife,
                        IsEssential = true,
                    }
                );
                return TypedResults.LocalRedirect($"/sign-in/step?{back}");
            default:
                var failed =
                    result.Outcome == SignInOutcome.TooSoon
                        ? FormattableString.Invariant($"failed=wait&wait={Problems.Seconds(result.Wait)}")
                    : result.Outcome == SignInOutcome.Suspended ? "failed=suspended"
                    : "failed=1";
                return TypedResults.LocalRedirect($"{form}?{failed}&{back}");
        }
    }

    /// <summary>
    /// What the second form has to ask: the schools to choose from, whether one of them wants a code; null once it is too late.
    /// </summary>
    public static SignInStep? Asked(HttpContext http, IDataProtectionProvider protection) =>
        Read(http, protection) is { } proven
            ? new SignInStep(
                [.. proven.Accounts.Select(a => new SchoolChoice(a.SchoolId, a.School))],
                proven.Accounts.Any(a => a.NeedsCode)
            )
            : null;

    private static ProvenAddress? Read(HttpContext http, IDataProtectionProvider protection)
    {
        if (http.Request.Cookies[StepCookie] is not { Length: > 0 } kept)
            return null;
        try
        {
            return JsonSerializer.Deserialize(Protector(protection).Unprotect(kept), StepJson.Default.ProvenAddress);
        }
        catch (System.Security.Cryptography.CryptographicException)
        {
            return null;
        }
    }

    private static ITimeLimitedDataProtector Protector(IDataProtectionProvider protection) =>
        protection.CreateProtector("sign-in-step").ToTimeLimitedDataProtector();

    private static string Home(string? returnUrl) => IsOurs(returnUrl) ? returnUrl! : "/";

    /// <summary>
    /// A path of this site, not an address elsewhere in disguise, and such as a header can hold: browsers drop tabs and line ends from
    /// an address, and escape what is not ASCII.
    /// </summary>
    private static bool IsOurs(string? url) =>
        url is ['/', ..]
        && url.All(c => c is > ' ' and <= '~')
        && !url.StartsWith("//", StringComparison.Ordinal)
        && !url.StartsWith("/\\", StringComparison.Ordinal);
}

[JsonSerializable(typeof(ProvenAddress))]
internal sealed partial class StepJson : JsonSerializerContext;
