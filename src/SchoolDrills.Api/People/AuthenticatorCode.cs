using OtpNet;

namespace SchoolDrills.Api.People;

/// <summary>Time-based one-time passwords (RFC 6238) as authenticator apps make them: SHA-1, six figures, half a minute.</summary>
internal static class AuthenticatorCode
{
    /// <summary>
    /// Number of the half minute whose code this is: the present one or its neighbours, since clocks differ; null where the code is
    /// none of theirs, or of a half minute that was used already.
    /// </summary>
    public static long? StepOf(byte[] key, string code, DateTimeOffset now, long lastUsedStep) =>
        new Totp(key).VerifyTotp(now.UtcDateTime, code, out var step, VerificationWindow.RfcSpecifiedNetworkDelay) && step > lastUsedStep
            ? step
            : null;
}
