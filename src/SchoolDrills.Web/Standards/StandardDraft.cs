using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Standards;

/// <summary>A standard as it is typed.</summary>
internal sealed class StandardDraft
{
    public string Slug { get; set; } = "";

    public string Title { get; set; } = "";

    public string Source { get; set; } = "";

    public string Edition { get; set; } = "";

    public string Basis { get; set; } = "school";

    public double? RequiredPercent { get; set; } = 90;

    public double? ClosePercent { get; set; } = 70;

    public double? PromptCorrectionS { get; set; } = 8;

    public string? Supersedes { get; private init; }

    public List<Row> Rows { get; } = [];

    public sealed class Row
    {
        public Parameter Parameter { get; set; } = Parameter.Altitude;

        public double? Within { get; set; }

        /// <summary>None for all.</summary>
        public HashSet<SegmentKind> Kinds { get; init; } = [];

        public string? Basis { get; set; }
    }

    /// <summary>An empty one with the three tolerances that every published standard has.</summary>
    public static StandardDraft Empty() =>
        new()
        {
            Rows =
            {
                new Row { Parameter = Parameter.Altitude },
                new Row { Parameter = Parameter.Heading },
                new Row { Parameter = Parameter.Airspeed },
            },
        };

    /// <summary>Begun from another one, as its next edition or as a standard of its own.</summary>
    public static StandardDraft From(StandardEdition from, bool nextEdition, IReadOnlyCollection<string> taken)
    {
        var standard = from.Standard;
        var draft = new StandardDraft
        {
            Slug = StandardWords.Free(nextEdition ? $"{from.Line}-{from.Edition + 1}" : $"{standard.Slug}-own", taken),
            Title = nextEdition ? standard.Title : T["{0}, the school's own", standard.Title],
            Source = standard.Source,
            Edition = nextEdition ? "" : standard.Edition ?? "",
            Basis = nextEdition ? standard.Basis : "school",
            RequiredPercent = Percent(standard.RequiredShare),
            ClosePercent = Percent(standard.CloseShare),
            PromptCorrectionS = standard.PromptCorrectionS,
            Supersedes = nextEdition ? standard.Slug : null,
        };
        draft.Rows.AddRange(
            standard.Tolerances.Select(t => new Row
            {
                Parameter = t.Parameter,
                Within = t.Within,
                Kinds = [.. t.Phases ?? []],
                Basis = t.Basis,
            })
        );
        return draft;
    }

    /// <summary>What would be sent; a number that is not there is one that no standard may have, and is told as such.</summary>
    public ToleranceStandard Standard() =>
        new(Share(RequiredPercent), Share(ClosePercent), PromptCorrectionS ?? double.NaN)
        {
            Slug = Slug.Trim(),
            Title = Title.Trim(),
            Source = Source.Trim(),
            Edition = string.IsNullOrWhiteSpace(Edition) ? null : Edition.Trim(),
            Basis = Basis,
            Supersedes = Supersedes,
            Tolerances =
            [
                .. Rows.Select(r => new Tolerance(
                    r.Parameter,
                    r.Within ?? double.NaN,
                    r.Kinds.Count == 0 ? null : [.. r.Kinds.Order()],
                    string.IsNullOrWhiteSpace(r.Basis) ? null : r.Basis.Trim()
                )),
            ],
        };

    private static double Percent(double share) => Math.Round(share * 100, 6);

    private static double Share(double? percent) => percent / 100 ?? double.NaN;
}
