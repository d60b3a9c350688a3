using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.BearerToken;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Access;

namespace SchoolDrills.Api.People;

/// <summary>How people sign in: bearer tokens for the API, a cookie for the pages; both name a session that can be ended.</summary>
internal static class SignInSetup
{
    /// <summary>Picks the bearer token where one is sent, the cookie otherwise.</summary>
    public const string Scheme = "school";

    private const string BearerWord = "Bearer ";

    public static IServiceCollection AddSignIn(this IServiceCollection services, IConfiguration configuration)
    {
        services
            .AddDataProtection()
            .SetApplicationName("SchoolDrills")
            .PersistKeysToDbContext<AccountsDbContext>()
            .ProtectKeysAsConfigured(configuration);
        services.Configure<PasswordHasherOptions>(hashing => hashing.IterationCount = Passwords.HashIterations);
        services.AddScoped<IPasswordHasher<Person>, PasswordHasher<Person>>();
        services.AddScoped<Passwords>();
        services.AddScoped<SignInService>();
        services.AddScoped<SignInFailures>();
        services.AddScoped<PasswordCheck>();
        services.AddScoped<SchoolSwitch>();
        services.AddScoped<SecondFactor>();
        services.AddScoped<EntryLinks>();
        services.AddSingleton<Tokens>();
        services
            .AddAuthentication(Scheme)
            .AddPolicyScheme(
                Scheme,
                null,
                policy =>
                    policy.ForwardDefaultSelector = http =>
                        ApiTokenHandler.IsMeant(http.Request.Headers.Authorization.ToString()) ? ApiTokenHandler.Scheme
                        : IsBearer(http.Request.Headers.Authorization.ToString()) ? IdentityConstants.BearerScheme
                        : IdentityConstants.ApplicationScheme
            )
            .AddScheme<AuthenticationSchemeOptions, ApiTokenHandler>(ApiTokenHandler.Scheme, null)
            .AddCookie(IdentityConstants.ApplicationScheme, ConfigureCookie)
            .AddBearerToken(
                IdentityConstants.BearerScheme,
                bearer =>
                {
                    bearer.BearerTokenExpiration = Tokens.AccessLife;
                    bearer.Events.OnMessageReceived = ReadToken;
                }
            );
        return services.AddPolicies();
    }

    /// <summary>The word before the token may be in any case (RFC 9110, section 11.1); the framework wants it with a capital.</summary>
    private static Task ReadToken(MessageReceivedContext context)
    {
        var authorization = context.Request.Headers.Authorization.ToString();
        if (IsBearer(authorization))
            context.Token = authorization[BearerWord.Length..].Trim();
        return Task.CompletedTask;
    }

    private static bool IsBearer(string authorization) => authorization.StartsWith(BearerWord, StringComparison.OrdinalIgnoreCase);

    private static void ConfigureCookie(CookieAuthenticationOptions cookie)
    {
        cookie.Cookie.Name = "schooldrills";
        cookie.Cookie.HttpOnly = true;
        cookie.Cookie.SameSite = SameSiteMode.Lax;
        cookie.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        cookie.ExpireTimeSpan = Session.Life;
        cookie.SlidingExpiration = true;
        cookie.LoginPath = "/sign-in";
        cookie.AccessDeniedPath = "/not-found";
        cookie.ReturnUrlParameter = "returnUrl";
        // The API answers with a status, not with a page to sign in on.
        cookie.Events.OnRedirectToLogin = context => Answer(context, StatusCodes.Status401Unauthorized);
        cookie.Events.OnRedirectToAccessDenied = context => Answer(context, StatusCodes.Status403Forbidden);

        static Task Answer(RedirectContext<CookieAuthenticationOptions> context, int status)
        {
            // Of a suspended school: the page to sign in on says so.
            var where = context.RedirectUri + (context.HttpContext.Items.ContainsKey(SessionGate.Suspended) ? "&failed=suspended" : "");
            if (context.Request.Path.StartsWithSegments("/api"))
                context.Response.StatusCode = status;
            else
                context.Response.Redirect(where);
            return Task.CompletedTask;
        }
    }
}
