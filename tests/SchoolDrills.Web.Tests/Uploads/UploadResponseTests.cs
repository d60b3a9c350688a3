using SchoolDrills.Web.Uploads;

namespace SchoolDrills.Web.Tests.Uploads;

public sealed class UploadResponseTests
{
    [Fact]
    public void An_unreadable_file_is_told_in_the_servers_own_sentence() =>
        Assert.Equal(
            "Line 12: latitude 95 is outside ±90.",
            UploadResponse.Sentence(
                422,
                """{"type":"urn:unreadable","title":"Unreadable","status":422,"detail":"Line 12: latitude 95 is outside ±90."}"""
            )
        );

    [Fact]
    public void A_broken_line_says_that_nothing_was_stored() => Assert.Contains("nothing was stored", UploadResponse.Sentence(0, ""));

    [Fact]
    public void A_proxys_own_refusal_still_becomes_a_sentence() =>
        Assert.Contains("64 MiB", UploadResponse.Sentence(413, "<html>too large</html>"));
}
