using System.Text;
using SchoolDrills.Api.People;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

public sealed class TotpTests
{
    // RFC 6238, appendix B: the key of the SHA-1 rows.
    private static readonly byte[] Key = Encoding.ASCII.GetBytes("12345678901234567890");

    /// <summary>RFC 6238, appendix B, SHA-1: the last six of the eight figures printed there.</summary>
    [Theory]
    [InlineData(59, "287082")]
    [InlineData(1111111109, "081804")]
    [InlineData(1111111111, "050471")]
    [InlineData(1234567890, "005924")]
    [InlineData(2000000000, "279037")]
    [InlineData(20000000000, "353130")]
    public void Codes_are_those_of_the_standard(long unixTimeS, string code)
    {
        Assert.Equal(code, Totp.CodeAt(Key, unixTimeS / 30));
        Assert.Equal(unixTimeS / 30, Totp.StepOf(Key, code, DateTimeOffset.FromUnixTimeSeconds(unixTimeS), 0));
    }

    [Fact]
    public void A_code_works_once_and_half_a_minute_early_or_late()
    {
        var now = DateTimeOffset.FromUnixTimeSeconds(1111111111);
        var step = 1111111111 / 30;
        Assert.Equal(step, Totp.StepOf(Key, "050471", now.AddSeconds(30), 0));
        Assert.Equal(step, Totp.StepOf(Key, "050471", now.AddSeconds(-30), 0));
        Assert.Null(Totp.StepOf(Key, "050471", now.AddSeconds(90), 0));
        Assert.Null(Totp.StepOf(Key, "050471", now, step));
        Assert.Null(Totp.StepOf(Key, "050472", now, 0));
    }

    /// <summary>RFC 4648, section 10, without the padding.</summary>
    [Theory]
    [InlineData("", "")]
    [InlineData("f", "MY")]
    [InlineData("fo", "MZXQ")]
    [InlineData("foo", "MZXW6")]
    [InlineData("foob", "MZXW6YQ")]
    [InlineData("fooba", "MZXW6YTB")]
    [InlineData("foobar", "MZXW6YTBOI")]
    public void Base32_is_that_of_the_standard(string text, string encoded) => Assert.Equal(encoded, Totp.ToBase32(Encoding.ASCII.GetBytes(text)));
}
