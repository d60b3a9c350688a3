using System.Globalization;

namespace SchoolDrills.Engine.Tracks;

/// <summary>Collects samples into columns, drops and counts records that cannot be samples, and keeps to the limits.</summary>
internal sealed class TrackBuilder(string format, TrackReadOptions options)
{
    private readonly double[]?[] _columns = new double[]?[TrackColumnLimits.Count];
    private readonly List<string> _warnings = [];
    private readonly Dictionary<string, string> _sources = [];
    private long[] _utcTicks = new long[1024];
    private double[] _latDeg = new double[1024];
    private double[] _lonDeg = new double[1024];
    private int _firstDropped;
    private int _droppedWarned;

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
        if (Count == _utcTicks.Length)
            Grow();
        _utcTicks[Count] = utcTicks;
        _latDeg[Count] = latDeg;
        _lonDeg[Count] = lonDeg;
        Count++;
        return true;
    }

    /// <summary>Sets a column of the last sample; a value that the column cannot hold stays missing.</summary>
    public void Set(TrackColumn column, double value)
    {
        value = column.Plausible(value);
        if (double.IsNaN(value))
            return;
        var values = _columns[(int)column];
        if (values is null)
        {
            values = new double[_utcTicks.Length];
            Array.Fill(values, double.NaN);
            _columns[(int)column] = values;
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
        foreach (var values in _columns)
        {
            if (values is not null)
                values[Count] = double.NaN;
        }
        Drop(record);
    }

    /// <summary>Counts a record that cannot be used.</summary>
    public void Drop(int record)
    {
        if (Dropped++ == 0)
            _firstDropped = record;
    }

    /// <summary>Counts records that cannot be used and of which the reader itself warns.</summary>
    public void DropWarned(int records) => _droppedWarned += records;

    /// <summary>Removes a column of zeros: a missing sensor writes them.</summary>
    public void RemoveIfAllZero(TrackColumn column)
    {
        if (Values(column).IndexOfAnyExcept(0.0) < 0)
            _columns[(int)column] = null;
    }

    public void Warn(string sentence)
    {
        if (!_warnings.Contains(sentence))
            _warnings.Add(sentence);
    }

    public void Source(string name, string recordingsName) => _sources[name] = recordingsName;

    /// <summary>The values of a column so far, or an empty span.</summary>
    public Span<double> Values(TrackColumn column) => _columns[(int)column].AsSpan(0, _columns[(int)column] is null ? 0 : Count);

    public double TimeS(int index) => (_utcTicks[index] - _utcTicks[0]) / (double)TimeSpan.TicksPerSecond;

    /// <summary>The finished recording. There must be at least one sample.</summary>
    public Track Build()
    {
        if (Dropped > 0)
        {
            Warn(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Dropped:N0} {(Dropped == 1 ? "record" : "records")} without a usable time and position "
                        + $"{(Dropped == 1 ? "was" : "were")} left out, the first at line "
                        + $""
                        + $""
                        + $"{_firstDropped}."
                )
            );
        }
        var ellipsoidal = GpsAltitudeIsEllipsoidal && _columns[(int)TrackColumn.GpsAltitudeFt] is not null;
        var timeS = new double[Count];
        for (var i = 0; i < Count; i++)
            timeS[i] = TimeS(i);
        return new Track
        {
            Format = format,
            EpochUtc = new DateTimeOffset(_utcTicks[0], TimeSpan.Zero),
            TimeS = timeS,
            LatDeg = Trimmed(_latDeg),
            LonDeg = Trimmed(_lonDeg),
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
            Columns = _sources,
            Header = Header,
            Warnings = _warnings,
            DroppedRecords = Dropped + _droppedWarned,
        };
    }

    private double[]? Take(TrackColumn column)
    {
        var values = _columns[(int)column];
        _columns[(int)column] = null;
        return values is null ? null : Trimmed(values);
    }

    private double[] Trimmed(double[] values) => values.Length == Count ? values : values[..Count];

    private void Grow()
    {
        // Never far beyond the limit, so that a full recording costs no more memory than it needs.
        var size = (int)Math.Min(_utcTicks.Length * 2L, Math.Max(options.MaxSamples, Count + 1));
        Array.Resize(ref _utcTicks, size);
        Array.Resize(ref _latDeg, size);
        Array.Resize(ref _lonDeg, size);
        for (var i = 0; i < _columns.Length; i++)
        {
            if (_columns[i] is null)
                continue;
            Array.Resize(ref _columns[i], size);
            Array.Fill(_columns[i]!, double.NaN, Count, size - Count);
        }
    }
}
