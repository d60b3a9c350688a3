using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace SchoolDrills.Api.People;

/// <summary>Time-based one-time passwords (RFC 6238) as authenticator apps make them: SHA-1, six figures, half a minute.</summary>
internal static class Totp
{
    private const int KeyBytes = 20, StepS = 30;

    private const string Base32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

    public static byte[] NewKey() => RandomNumberGenerator.GetBytes(KeyBytes);

    /// <summary>
    /// Number of the half minute whose code this is: the present one or its neighbours, since clocks differ; null where the code is
    /// none of theirs, or of a half minute that was used already.
    /// </summary>
    public static long? StepOf(byte[] key, string code, DateTimeOffset now, long lastUsedStep)
    {
        var present = now.ToUnixTimeSeconds() / StepS;
        foreach (var step in (long[])[present, present - 1, present + 1])
        {
            if (step > lastUsedStep && CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(CodeAt(key, step)), Encoding.UTF8.GetBytes(code))) return step;
        }

        return null;
    }

    public static string CodeAt(byte[] key, long step)
    {
        Span<byte> counter = stackalloc byte[8];
        BinaryPrimitives.WriteInt64BigEndian(counter, step);
        Span<byte> mac = stackalloc byte[20];
#pragma warning disable CA5350 // The apps speak SHA-1, and as a MAC it is not broken.
        HMACSHA1.HashData(key, counter, mac);
#pragma warning restore CA5350
        var number = BinaryPrimitives.ReadInt32BigEndian(mac[(mac[^1] & 15)..]) & 0x7FFFFFFF;
        return (number % 1_000_000).ToString("000000", System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>As RFC 4648 has it, without padding.</summary>
    public static string ToBase32(ReadOnlySpan<byte> bytes)
    {
        var text = new StringBuilder();
        int held = 0, bits = 0;
        foreach (var b in bytes)
        {
            held = (held << 8) | b;
            bits += 8;
            while (bits >= 5)
            {
                text.Append(Base32[(held >> (bits - 5)) & 31]);
                bits -= 5;
            }

            held &= (1 << bits) - 1;
        }

        return bits > 0 ? text.Append(Base32[(held << (5 - bits)) & 31]).ToString() : text.ToString();
    }
}
