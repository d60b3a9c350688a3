using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using OtpNet;

namespace SchoolDrills.Api.People;

/// <summary>
/// A person's authenticator app and recovery codes. The key is kept under the host's data protection, the codes as hashes.
/// </summary>
internal sealed class SecondFactor(IDataProtectionProvider protection, TimeProvider clock)
{
    private const int CodesAtOnce = 10;

    private readonly IDataProtector keys = ProtectorOf(protection);

    public static IDataProtector ProtectorOf(IDataProtectionProvider protection) => protection.CreateProtector("authenticator-key");

    /// <summary>A new key, kept but not asked for until a code of it was shown to work.</summary>
    public string Begin(Credentials credentials)
    {
        var key = KeyGeneration.GenerateRandomKey(OtpHashMode.Sha1);
        credentials.AuthenticatorKey = keys.Protect(Convert.ToBase64String(key));
        return Base32Encoding.ToString(key);
    }

    /// <summary>Whether the code is the app's, or a recovery code; either is used up by it. Saving is the caller's.</summary>
    public bool Use(Credentials credentials, string code)
    {
        var plain = code.Replace(" ", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal).ToLowerInvariant();
        if (
            credentials.AuthenticatorKey is { } kept
            && AuthenticatorCode.StepOf(Convert.FromBase64String(keys.Unprotect(kept)), plain, clock.GetUtcNow(), credentials.LastCodeStep)
                is { } step
        )
        {
            credentials.LastCodeStep = step;
            return true;
        }

        var hash = Secrets.HashOf(plain);
        if (!credentials.RecoveryCodeHashes.Contains(hash))
            return false;
        credentials.RecoveryCodeHashes = [.. credentials.RecoveryCodeHashes.Where(h => h != hash)];
        return true;
    }

    public static IReadOnlyList<string> NewRecoveryCodes(Credentials credentials)
    {
        // Fifty bits each: with the lock after eight wrong ones, out of reach.
        string[] codes =
        [
            .. Enumerable.Range(0, CodesAtOnce).Select(_ => RandomNumberGenerator.GetString("abcdefghjkmnpqrstuvwxyz23456789", 10)),
        ];
        credentials.RecoveryCodeHashes = [.. codes.Select(Secrets.HashOf)];
        return [.. codes.Select(c => $"{c[..5]}-{c[5..]}")];
    }

    public static void Remove(Person person, Credentials credentials)
    {
        person.TwoFactorEnabled = false;
        credentials.AuthenticatorKey = null;
        credentials.RecoveryCodeHashes = [];
    }
}
