using System.Text;
using SchoolDrills.Api.People;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

public sealed class AuthenticatorCodeTests
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
    public void Codes_are_those_of_the_standard(long unixTimeS, string code) =>
        Assert.Equal(unixTimeS / 30, AuthenticatorCode.StepOf(Key, code, DateTimeOffset.FromUnixTimeSeconds(unixTimeS), 0));

    [Fact]
    public void A_code_works_once_and_half_a_minute_early_or_late()
    {
        var now = DateTimeOffset.FromUnixTimeSeconds(1111111111);
        var step = 1111111111 / 30;
        Assert.Equal(step, AuthenticatorCode.StepOf(Key, "050471", now.AddSeconds(30), 0));
        Assert.Equal(step, AuthenticatorCode.StepOf(Key, "050471", now.AddSeconds(-30), 0));
        Assert.Null(AuthenticatorCode.StepOf(Key, "050471", now.AddSeconds(90), 0));
        Assert.Null(AuthenticatorCode.StepOf(Key, "050471", now, step));
        Assert.Null(AuthenticatorCode.StepOf(Key, "050472", now, 0));
    }
}
