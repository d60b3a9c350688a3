using System.Globalization;

namespace SchoolDrills.Engine.Tracks;

/// <summary>Collects samples into columns, drops and counts records that cannot be samples, and keeps to the limits.</summary>
internal sealed class TrackBuilder(string format, TrackReadOptions options)
{
    private readonly double[]?[] columns = new double[]?[TrackColumnLimits.Count];
    private readonly List<string> warnings = [];
    private readonly Dictionary<string, string> sources = [];
    private long[] utcTicks = new long[1024];
    private double[] latDeg = new double[1024];
    private double[] lonDeg = new double[1024];
    private int firstDropped;
    private int droppedWarned;
    private bool timesAreSpread;

    public int Count { get; private set; }

    public int Dropped { get; private set; }

    public bool GpsAltitudeIsEllipsoidal { get; set; }

    public TrackHeader? Header { get; set; }

    /// <summary>Adds a sample unless its time or position is impossible; <see cref="Set"/> then fills its other columns.</summary>
    public bool Add(long utcTicks, double latDeg, double lonDeg, int record)
    {
        if (!(Math.Abs(latDeg) <= 90) || !(Math.Abs(lonDeg) <= 180) || utcTicks < TimeText.FirstTicks || utcTicks >= TimeText.LastTicks)
        {
            Drop(record);
            return false;
        }
        if (Count == options.MaxSamples)
            throw TooManySamples();
        if (Count == this.utcTicks.Length)
            Grow();
        this.utcTicks[Count] = utcTicks;
        this.latDeg[Count] = latDeg;
        this.lonDeg[Count] = lonDeg;
        Count++;
        return true;
    }

    /// <summary>Sets a column of the last sample; a value that the column cannot hold stays missing.</summary>
    public void Set(TrackColumn column, double value)
    {
        value = column.Plausible(value);
        if (double.IsNaN(value))
            return;
        var values = columns[(int)column];
        if (values is null)
        {
            values = new double[utcTicks.Length];
            Array.Fill(values, double.NaN);
            columns[(int)column] = values;
        }
        values[Count - 1] = value;
    }

    public TrackRefusedException TooManySamples() =>
        TrackRefusedException.TooLarge(
            string.Create(
                CultureInfo.InvariantCulture,
                $"The recording holds more than {options.MaxSamples:N0} samples; cut out the flight with the drill and send that."
            )
        );

    /// <summary>Removes the last sample, for a record found to be truncated.</summary>
    public void RemoveLast(int record)
    {
        Count--;
        foreach (var values in columns)
        {
            values?[Count] = double.NaN;
        }
        Drop(record);
    }

    /// <summary>Counts a record that cannot be used.</summary>
    public void Drop(int record)
    {
        if (Dropped++ == 0)
            firstDropped = record;
    }

    /// <summary>Counts records that cannot be used and of which the reader itself warns.</summary>
    public void DropWarned(int records) => droppedWarned += records;

    /// <summary>Removes a column.</summary>
    public void Remove(TrackColumn column)
    {
        columns[(int)column] = null;
        sources.Remove(column.Name());
    }

    /// <summary>Makes the values of a column those of another.</summary>
    public void Move(TrackColumn from, TrackColumn to)
    {
        columns[(int)to] = columns[(int)from];
        sources[to.Name()] = sources[from.Name()];
        Remove(from);
    }

    /// <summary>Removes a column of zeros: a missing sensor writes them.</summary>
    public void RemoveIfAllZero(TrackColumn column)
    {
        if (Values(column).IndexOfAnyExcept(0.0) < 0)
            columns[(int)column] = null;
    }

    public void Warn(string sentence)
    {
        sentence = ShownText.Clean(sentence);
        if (!warnings.Contains(sentence))
            warnings.Add(sentence);
    }

    public void Source(string name, string recordingsName) => sources[name] = recordingsName;

    /// <summary>The values of a column so far, or an empty span.</summary>
    public Span<double> Values(TrackColumn column) => columns[(int)column].AsSpan(0, columns[(int)column] is null ? 0 : Count);

    /// <summary>Latitudes of the samples so far, degrees.</summary>
    public ReadOnlySpan<double> LatDeg => latDeg.AsSpan(0, Count);

    /// <summary>Longitudes of the samples so far, degrees.</summary>
    public ReadOnlySpan<double> LonDeg => lonDeg.AsSpan(0, Count);

    public DateTimeOffset Utc(int index) => new(utcTicks[index], TimeSpan.Zero);

    public double TimeS(int index) => (utcTicks[index] - utcTicks[0]) / (double)TimeSpan.TicksPerSecond;

    /// <summary>Samples that share a time get one each where their positions show it; once all are added, and only once.</summary>
    public void SpreadSharedTimes()
    {
        if (timesAreSpread)
            return;
        timesAreSpread = true;
        var moved = SharedTimes.Spread(utcTicks.AsSpan(0, Count), latDeg.AsSpan(0, Count), lonDeg.AsSpan(0, Count));
        if (moved == 0)
            return;
        Warn(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{moved:N0} {(moved == 1 ? "sample has" : "samples have")} the time of the one before, but evenly spaced positions; "
                    + $"their times were spread evenly."
            )
        );
    }

    /// <summary>The finished recording. There must be at least one sample.</summary>
    public Track Build()
    {
        SpreadSharedTimes();
        if (Dropped > 0)
        {
            Warn(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Dropped:N0} {(Dropped == 1 ? "record" : "records")} without a usable time and position "
                        + $"{(Dropped == 1 ? "was" : "were")} left out, the first at line {firstDropped}."
                )
            );
        }
        var ellipsoidal = GpsAltitudeIsEllipsoidal && columns[(int)TrackColumn.GpsAltitudeFt] is not null;
        var timeS = new double[Count];
        for (var i = 0; i < Count; i++)
            timeS[i] = TimeS(i);
        return new Track
        {
            Format = format,
            EpochUtc = new DateTimeOffset(utcTicks[0], TimeSpan.Zero),
            TimeS = timeS,
            LatDeg = Trimmed(latDeg),
            LonDeg = Trimmed(lonDeg),
            GpsAltitudeFt = Take(TrackColumn.GpsAltitudeFt),
            GpsAltitudeIsEllipsoidal = ellipsoidal,
            PressureAltitudeFt = Take(TrackColumn.PressureAltitudeFt),
            IndicatedAltitudeFt = Take(TrackColumn.IndicatedAltitudeFt),
            AltimeterSettingHpa = Take(TrackColumn.AltimeterSettingHpa),
            IndicatedAirspeedKt = Take(TrackColumn.IndicatedAirspeedKt),
            TrueAirspeedKt = Take(TrackColumn.TrueAirspeedKt),
            HeadingMagDeg = Take(TrackColumn.HeadingMagDeg),
            HeadingTrueDeg = Take(TrackColumn.HeadingTrueDeg),
            BankDeg = Take(TrackColumn.BankDeg),
            PitchDeg = Take(TrackColumn.PitchDeg),
            VerticalSpeedFpm = Take(TrackColumn.VerticalSpeedFpm),
            GroundSpeedKt = Take(TrackColumn.GroundSpeedKt),
            CourseTrueDeg = Take(TrackColumn.CourseTrueDeg),
            OutsideAirTemperatureC = Take(TrackColumn.OutsideAirTemperatureC),
            MagneticVariationDeg = Take(TrackColumn.MagneticVariationDeg),
            Columns = sources,
            Header = Header,
            Warnings = warnings,
            DroppedRecords = Dropped + droppedWarned,
        };
    }

    private double[]? Take(TrackColumn column)
    {
        var values = columns[(int)column];
        columns[(int)column] = null;
        return values is null ? null : Trimmed(values);
    }

    private double[] Trimmed(double[] values) => values.Length == Count ? values : values[..Count];

    private void Grow()
    {
        // Never far beyond the limit, so that a full recording costs no more memory than it needs.
        var size = (int)Math.Min(utcTicks.Length * 2L, Math.Max(options.MaxSamples, Count + 1));
        Array.Resize(ref utcTicks, size);
        Array.Resize(ref latDeg, size);
        Array.Resize(ref lonDeg, size);
        for (var i = 0; i < columns.Length; i++)
        {
            if (columns[i] is null)
                continue;
            Array.Resize(ref columns[i], size);
            Array.Fill(columns[i]!, double.NaN, Count, size - Count);
        }
    }
}
