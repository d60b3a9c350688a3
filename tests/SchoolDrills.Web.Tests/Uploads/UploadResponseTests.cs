using SchoolDrills.Web.Uploads;

namespace SchoolDrills.Web.Tests.Uploads;

public sealed class UploadResponseTests
{
    [Fact]
    public void An_unreadable_file_is_told_in_the_servers_own_sentence() =>
        Assert.Equal(
            "Line 12: latitude 95 is outside ±90.",
            new UploadResponse(
                422,
                """{"type":"urn:unreadable","title":"Unreadable","status":422,"detail":"Line 12: latitude 95 is outside ±90."}"""
            ).Problem
        );

    [Fact]
    public void A_broken_line_says_that_nothing_was_stored() => Assert.Contains("nothing was stored", new UploadResponse(0, "").Problem);

    [Fact]
    public void A_proxys_own_refusal_still_becomes_a_sentence() =>
        Assert.Contains("64 MiB", new UploadResponse(413, "<html>too large</html>").Problem);
}
