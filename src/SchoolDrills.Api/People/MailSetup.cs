using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace SchoolDrills.Api.People;

internal static class MailSetup
{
    public static IServiceCollection AddMail(this IServiceCollection services, IConfiguration configuration)
    {
        var settings = MailSettings.Read(configuration);
        services.AddSingleton(provider => new MailQueue(settings, provider.GetRequiredService<ILogger<MailQueue>>()));
        return settings is null ? services : services.AddHostedService(provider => provider.GetRequiredService<MailQueue>());
    }
}
