using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Schools;

/// <summary>Published rules on keeping training records. A school says which of them bind it; the longest wins.</summary>
internal static class RetentionRules
{
    public static readonly IReadOnlyList<RetentionRule> All =
    [
        new("us-instructor", "Flight instructor's own records of endorsements", 3, "14 CFR 61.189(b)", "published"),
        new("us-part-141", "Training record of a pilot school's student", 1, "14 CFR 141.101(d)", "published"),
        new(
            "eu-ato",
            "Training and progress records of an approved training organisation, after the course is completed",
            3,
            "ORA.ATO.120",
            "transcription"
        ),
        new("eu-general", "Records of an organisation where nothing else is laid down", 5, "AMC1 ORA.GEN.220", "transcription"),
    ];

    /// <summary>What a fresh school starts with: three years, by either authority's rule on training records.</summary>
    public static readonly string[] Usual = ["us-instructor", "us-part-141", "eu-ato"];

    /// <summary>The longest of the rules that apply and of the school's own wish; 0 where nothing binds.</summary>
    public static int Years(IEnumerable<string> slugs, int ownYears) =>
        All.Where(r => slugs.Contains(r.Slug)).Select(r => r.Years).Append(ownYears).Max();
}
