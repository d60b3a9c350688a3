using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace SchoolDrills.Api.People;

/// <summary>
/// Secrets that are shown once and kept as a hash. They have 256 bits of their own, so a plain SHA-256 is as good as a slow one.
/// </summary>
internal static class Secrets
{
    public static string New() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));

    public static string HashOf(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));
}
