using SchoolDrills.Api.Audit;
using Xunit;

namespace SchoolDrills.Api.Tests.Audit;

public sealed class CsvTests
{
    /// <summary>The characters that OWASP's page on CSV injection names, and their full-width forms.</summary>
    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+1", "'+1")]
    [InlineData("-1", "'-1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("  =1", "'  =1")]
    [InlineData("＝1", "'＝1")]
    [InlineData("\t=1", "'\t=1")]
    public void A_cell_that_would_run_as_a_formula_is_text(string cell, string written) => Assert.Equal(written + "\r\n", Csv.Line(cell));

    /// <summary>RFC 4180, section 2, rules 5 to 7.</summary>
    [Theory]
    [InlineData("a,b", "\"a,b\"")]
    [InlineData("say \"left\"", "\"say \"\"left\"\"\"")]
    [InlineData("two\r\nlines", "\"two\r\nlines\"")]
    [InlineData("=HYPERLINK(\"x\",\"y\")", "\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\"")]
    [InlineData("plain", "plain")]
    [InlineData(null, "")]
    public void Separators_quotes_and_line_ends_are_quoted(string? cell, string written) =>
        Assert.Equal($"1,{written},2\r\n", Csv.Line("1", cell, "2"));
}
