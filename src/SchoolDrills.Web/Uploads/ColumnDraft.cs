using System.Text.RegularExpressions;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Web.Uploads;

/// <summary>A person's choice of what each column of a CSV is, as it is being made.</summary>
public sealed partial class ColumnDraft
{
    /// <summary>Latitude and longitude in one cell: two quantities of one column.</summary>
    public const string Position = "position";

    private static readonly string[] PositionParts = ["latDeg", "lonDeg"];

    private readonly IReadOnlyDictionary<string, ColumnChoice> standing;
    private readonly IReadOnlyList<HeaderColumn> columns;

    public ColumnDraft(IReadOnlyList<HeaderColumn> columns, IReadOnlyDictionary<string, ColumnChoice>? standing = null)
    {
        (this.columns, this.standing) = (columns, standing ?? new Dictionary<string, ColumnChoice>());
        Rows = [.. columns.Select(c => new Row(c) { Quantity = IsPosition(c) ? Position : c.TakenAs, Unit = UnitByHand(c.TakenAs) })];
    }

    public IReadOnlyList<Row> Rows { get; }

    /// <summary>Why it cannot be read so, one sentence; null when nothing stands against it.</summary>
    public string? Problem
    {
        get
        {
            var twice = Rows.SelectMany(r => r.Quantities).GroupBy(q => q).FirstOrDefault(g => g.Count() > 1);
            if (twice is not null)
                return T["Two columns are taken as {0}; choose one.", ColumnLabels.Of(twice.Key)];
            var missing = ColumnQuantity.Required.FirstOrDefault(q => Rows.All(r => !r.Quantities.Contains(q)));
            return missing is null ? null : T["No column is taken as {0}; choose one.", ColumnLabels.Of(missing)].Value;
        }
    }

    /// <summary>What is sent: what was set before, with what was changed since.</summary>
    public IReadOnlyDictionary<string, ColumnChoice> Mapping
    {
        get
        {
            var mapping = new Dictionary<string, ColumnChoice>(standing);
            foreach (var quantity in ColumnQuantity.All.Select(q => q.Name))
            {
                var before = columns.FirstOrDefault(c => c.TakenAs == quantity || (PositionParts.Contains(quantity) && IsPosition(c)));
                var now = Rows.FirstOrDefault(r => r.Quantities.Contains(quantity));
                if (before?.Name == now?.Column.Name && now?.Unit == UnitByHand(quantity))
                    continue;
                mapping[quantity] = now is null ? new ColumnChoice(ColumnChoice.None) : new ColumnChoice(now.Column.Name, now.Unit);
            }

            return mapping;
        }
    }

    /// <summary>Shown as latitude, with no column for longitude and two numbers in a cell.</summary>
    private bool IsPosition(HeaderColumn column) =>
        column.TakenAs == PositionParts[0]
        && columns.All(c => c.TakenAs != PositionParts[1])
        && column.Samples.Any(sample => TwoNumbers().IsMatch(sample));

    [GeneratedRegex(@"\d[.,]\d+\D+\d+[.,]\d")]
    private static partial Regex TwoNumbers();

    private string? UnitByHand(string? quantity) =>
        quantity is not null && standing.TryGetValue(quantity, out var choice) ? choice.Unit : null;

    /// <summary>One column and what it is taken as.</summary>
    public sealed class Row(HeaderColumn column)
    {
        public HeaderColumn Column => column;

        /// <summary>Null: not used.</summary>
        public string? Quantity
        {
            get;
            set
            {
                field = string.IsNullOrEmpty(value) ? null : value;
                if (!Units.Contains(Unit))
                    Unit = null;
            }
        }

        /// <summary>What of a recording the column holds: nothing, one quantity, or both of a position.</summary>
        public IReadOnlyList<string> Quantities =>
            Quantity switch
            {
                null => [],
                Position => PositionParts,
                var one => [one],
            };

        /// <summary>Null: as the header says.</summary>
        public string? Unit
        {
            get;
            set => field = string.IsNullOrEmpty(value) ? null : value;
        }

        public IReadOnlyList<string> Units => ColumnQuantity.All.FirstOrDefault(q => q.Name == Quantity)?.Units ?? [];
    }
}
