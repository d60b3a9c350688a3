using System.Net.Http.Headers;
using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>
/// Gives the pages the same door as everyone: the typed client over HTTP, with a token of a minute's life for whoever is signed in.
/// The address is the host's own, known only once it listens, hence the placeholder that is swapped as a request goes out.
/// </summary>
internal static class PagesClient
{
    private const string Client = "pages";

    private static readonly Uri Placeholder = new("http://self.invalid/");

    private static readonly TimeSpan CallLife = TimeSpan.FromMinutes(1);

    public static IServiceCollection AddPagesClient(this IServiceCollection services)
    {
        services.AddTransient<OwnAddress>();
        services.AddHttpClient(Client, http => http.BaseAddress = Placeholder).AddHttpMessageHandler<OwnAddress>();
        services.AddHttpContextAccessor();
        services.AddScoped<SignInStepSource>(provider =>
            () =>
                provider.GetRequiredService<IHttpContextAccessor>().HttpContext is { } http
                    ? SignInForms.Asked(http, provider.GetRequiredService<IDataProtectionProvider>())
                    : null
        );
        services.AddScoped<AccessTokenSource>(provider =>
            async _ => TokenFor(await PersonAsync(provider), provider.GetRequiredService<Tokens>()) ?? ""
        );
        services.AddScoped(provider =>
        {
            // The provider of this scope, not of the handlers' own, knows who is signed in to this circuit or request.
            var handler = new VisitorHandler(provider)
            {
                InnerHandler = provider.GetRequiredService<IHttpMessageHandlerFactory>().CreateHandler(Client),
            };
            return new SchoolDrillsClient(
                new HttpClient(handler, disposeHandler: false) { BaseAddress = Placeholder, Timeout = TimeSpan.FromMinutes(2) }
            );
        });
        return services;
    }

    private static async Task<ClaimsPrincipal> PersonAsync(IServiceProvider provider) =>
        (await provider.GetRequiredService<AuthenticationStateProvider>().GetAuthenticationStateAsync()).User;

    private static string? TokenFor(ClaimsPrincipal person, Tokens tokens) =>
        person.Identity?.IsAuthenticated is true ? tokens.Access(SchoolClaims.ThroughPages(person), CallLife).Token : null;

    private sealed class VisitorHandler(IServiceProvider provider) : DelegatingHandler
    {
        private readonly Tokens tokens = provider.GetRequiredService<Tokens>();
        private readonly VisitorAddress visitors = provider.GetRequiredService<VisitorAddress>();
        private readonly IHttpContextAccessor page = provider.GetRequiredService<IHttpContextAccessor>();

        protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
        {
            if (TokenFor(await PersonAsync(provider), tokens) is { } token)
                request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
            visitors.PassOn(request, page.HttpContext);
            return await base.SendAsync(request, cancellationToken);
        }
    }

    private sealed class OwnAddress(IServer server) : DelegatingHandler
    {
        protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
        {
            if (
                request.RequestUri?.Host == Placeholder.Host
                && server.Features.Get<IServerAddressesFeature>()?.Addresses.FirstOrDefault() is { } own
            )
            {
                // "Any address" is not one to call.
                var address = new Uri(
                    own.Replace("://+", "://127.0.0.1", StringComparison.Ordinal)
                        .Replace("://*", "://127.0.0.1", StringComparison.Ordinal)
                        .Replace("://0.0.0.0", "://127.0.0.1", StringComparison.Ordinal)
                        .Replace("://[::]", "://127.0.0.1", StringComparison.Ordinal)
                );
                request.RequestUri = new UriBuilder(request.RequestUri)
                {
                    Scheme = address.Scheme,
                    Host = address.Host,
                    Port = address.Port,
                }.Uri;
            }

            return base.SendAsync(request, cancellationToken);
        }
    }
}
