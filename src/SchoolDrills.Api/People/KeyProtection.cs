using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.People;

/// <summary>How the keys behind tokens and cookies are kept in the database.</summary>
internal static class KeyProtection
{
    /// <summary>
    /// Under the certificate in <c>SCHOOLDRILLS_KEYS_CERTIFICATE</c> (a PKCS#12 file, its password in
    /// <c>SCHOOLDRILLS_KEYS_PASSWORD</c>) where one is given, so that a copy of the database opens no session. Without one they lie in
    /// the clear among what they protect: whoever may read that table may read the records too, so the framework's warning at each
    /// start would tell an operator nothing new, and it is left out. deploy/SECURITY.md says the same.
    /// </summary>
    public static void ProtectKeysAsConfigured(this IDataProtectionBuilder protection, IConfiguration configuration)
    {
        if (configuration["SCHOOLDRILLS_KEYS_CERTIFICATE"] is not { Length: > 0 } file)
        {
            protection.Services.AddLogging(logs =>
                logs.AddFilter("Microsoft.AspNetCore.DataProtection.KeyManagement.XmlKeyManager", LogLevel.Error)
            );
            return;
        }

        try
        {
            protection.ProtectKeysWithCertificate(
                X509CertificateLoader.LoadPkcs12FromFile(file, configuration["SCHOOLDRILLS_KEYS_PASSWORD"])
            );
        }
        catch (Exception e) when (e is CryptographicException or IOException or UnauthorizedAccessException)
        {
            throw new StartupRefusedException(
                $"SCHOOLDRILLS_KEYS_CERTIFICATE: {file} cannot be opened as a PKCS#12 file with the password "
                    + $"in SCHOOLDRILLS_KEYS_PASSWORD: {e.Message}",
                e
            );
        }
    }
}
