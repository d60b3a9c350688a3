using SchoolDrills.Web.Attempts;

namespace SchoolDrills.Web.Tests;

public sealed class UploadAnswerTests
{
    [Fact]
    public void An_unreadable_file_is_told_in_the_servers_own_sentence() =>
        Assert.Equal(
            "Line 12: latitude 95 is outside ±90.",
            UploadAnswer.Sentence(
                422,
                """{"type":"urn:unreadable","title":"Unreadable","status":422,"detail":"Line 12: latitude 95 is outside ±90."}"""
            )
        );

    [Fact]
    public void A_broken_line_says_that_nothing_was_stored() => Assert.Contains("nothing was stored", UploadAnswer.Sentence(0, ""));

    [Fact]
    public void A_proxys_own_refusal_still_becomes_a_sentence() =>
        Assert.Contains("64 MiB", UploadAnswer.Sentence(413, "<html>too large</html>"));
}
