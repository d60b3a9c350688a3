using System.Globalization;

namespace SchoolDrills.Engine.Tracks;

/// <summary>A person's choice of the columns of a CSV, checked against the header and applied to it.</summary>
internal static class CsvMapping
{
    /// <exception cref="TrackRefusedException">The mapping does not fit the header; one sentence says where and what to do.</exception>
    public static void Apply(IReadOnlyDictionary<string, ColumnChoice> mapping, CsvHeader header)
    {
        var taken = new Dictionary<int, List<string>>();
        foreach (var (name, choice) in mapping)
        {
            if (!CsvColumns.IsName(name))
            {
                throw Refused(
                    header,
                    $"The column mapping names \"{name}\", which is no quantity of a recording; use the names the reader reports."
                );
            }

            var index = header.IndexOf(choice.Column);
            if (index < 0 && choice.Column.Trim().Equals(ColumnChoice.None, StringComparison.OrdinalIgnoreCase))
            {
                header.Found.Remove(name);
                continue;
            }
            if (index < 0)
            {
                throw Refused(
                    header,
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The column mapping takes {name} from \"{choice.Column}\", which the header in line "
                            + $"{header.LineNumber} does not have; choose one of its columns, or none."
                    )
                );
            }
            if (!taken.TryGetValue(index, out var names))
                taken[index] = names = [];
            names.Add(name);
            if (names.Count > 1 && !(names.Count == 2 && CsvColumns.MayShare(names[0], name)))
            {
                throw Refused(
                    header,
                    $"The column mapping takes both {names[0]} and {name} from \"{header.Names[index]}\"; choose "
                        + $"another column for one of them, or none."
                );
            }

            if (!string.IsNullOrEmpty(choice.Unit))
                CheckUnit(header, name, choice.Unit);
        }
        // Only now, so that columns can be swapped.
        foreach (var (index, names) in taken)
        {
            foreach (var name in names)
                header.Take(name, index, string.IsNullOrEmpty(mapping[name].Unit) ? null : mapping[name].Unit, names);
        }
    }

    /// <summary>The choice in one sentence, for the report.</summary>
    public static string Sentence(IReadOnlyDictionary<string, ColumnChoice> mapping, bool remembered)
    {
        var choices = mapping
            .OrderBy(m => m.Key, StringComparer.Ordinal)
            .Select(m => $"{m.Key} from \"{m.Value.Column}\"{(string.IsNullOrEmpty(m.Value.Unit) ? "" : $" in {m.Value.Unit}")}");
        return $"{(remembered ? "Columns were taken as the school has set them for this header" : "Columns were set by hand")}: "
            + $"{string.Join(", ", choices)}.";
    }

    private static void CheckUnit(CsvHeader header, string name, string unit)
    {
        if (CsvColumns.OptionalColumn(name) is not { } column)
        {
            throw Refused(
                header,
                $"The column mapping gives {name} the unit {unit}, but times and positions have no choice of unit; leave the unit out."
            );
        }

        if (CsvUnit.For(column, unit) is null)
        {
            throw Refused(
                header,
                $"The column mapping gives {name} the unit {unit}, which it cannot have; choose one of "
                    + $"{string.Join(", ", CsvUnit.Offered(column))}."
            );
        }
    }

    private static TrackRefusedException Refused(CsvHeader header, string message) =>
        TrackRefusedException.Unreadable(message, header.LineNumber);
}
