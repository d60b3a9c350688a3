using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Web.Uploads;

/// <summary>A person's choice of what each column of a CSV is, as it is being made.</summary>
public sealed class ColumnDraft
{
    private readonly IReadOnlyDictionary<string, ColumnChoice> standing;
    private readonly IReadOnlyList<HeaderColumn> columns;

    public ColumnDraft(IReadOnlyList<HeaderColumn> columns, IReadOnlyDictionary<string, ColumnChoice>? standing = null)
    {
        (this.columns, this.standing) = (columns, standing ?? new Dictionary<string, ColumnChoice>());
        Rows = [.. columns.Select(c => new Row(c) { Quantity = c.TakenAs, Unit = UnitByHand(c.TakenAs) })];
    }

    public IReadOnlyList<Row> Rows { get; }

    /// <summary>Why it cannot be read so, one sentence; null when nothing stands against it.</summary>
    public string? Problem
    {
        get
        {
            var twice = Rows.Where(r => r.Quantity is not null).GroupBy(r => r.Quantity).FirstOrDefault(g => g.Count() > 1);
            if (twice is not null)
                return $"Two columns are taken as {ColumnLabels.Of(twice.Key!)}; choose one.";
            var missing = ColumnQuantity.Required.FirstOrDefault(q => Rows.All(r => r.Quantity != q));
            return missing is null ? null : $"No column is taken as {ColumnLabels.Of(missing)}; choose one.";
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
                var (before, now) = (columns.FirstOrDefault(c => c.TakenAs == quantity), Rows.FirstOrDefault(r => r.Quantity == quantity));
                if (before?.Name == now?.Column.Name && now?.Unit == UnitByHand(quantity))
                    continue;
                mapping[quantity] = now is null ? new ColumnChoice(ColumnChoice.None) : new ColumnChoice(now.Column.Name, now.Unit);
            }

            return mapping;
        }
    }

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

        /// <summary>Null: as the header says.</summary>
        public string? Unit
        {
            get;
            set => field = string.IsNullOrEmpty(value) ? null : value;
        }

        public IReadOnlyList<string> Units => ColumnQuantity.All.FirstOrDefault(q => q.Name == Quantity)?.Units ?? [];
    }
}
