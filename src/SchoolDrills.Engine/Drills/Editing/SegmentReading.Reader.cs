using System.Globalization;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills.Editing;

public sealed partial record SegmentReading
{
    /// <summary>Reads word by word; each phrase begins with what is done, or with a number that is a time.</summary>
    private sealed class Reader(List<string> words, SegmentStart start)
    {
        private static readonly string[] Fillers =
        [
            "and",
            "then",
            "straight",
            "level",
            "hold",
            "ahead",
            "turn",
            "of",
            "the",
            "while",
            "for",
            "in",
        ];
        private int at;

        public Segment Segment { get; private set; } = new();

        public bool More => at < words.Count;

        public string Here => string.Join(' ', words.Skip(Math.Min(at, words.Count - 1)).Take(3));

        /// <summary>Reads one phrase; false, standing on it, where it means nothing.</summary>
        public bool Next()
        {
            var began = at;
            var word = words[at++];
            var read = word switch
            {
                _ when Fillers.Contains(word) => More || began > 0,
                "left" or "l" => Turn(-1),
                "right" or "r" => Turn(1),
                "circle" => Circle(Take("left") ? -1 : 1),
                "to" => TurnTo(0),
                "climb" or "up" or "climbing" => Climb(1),
                "descend" or "down" or "descending" => Climb(-1),
                "slow" => Speed(-1),
                "speed" or "accelerate" => Take("up") | Speed(1),
                "at" => Rate(),
                "half" or "standard" => NamedRate(word),
                _ => Time(word),
            };
            if (!read)
                at = began;
            return read;
        }

        private bool Turn(int side)
        {
            Take("turn");
            if (Take("circle"))
                return Circle(side);
            if (Take("to"))
                return TurnTo(side);
            var turn = Number();
            Take("°");
            _ = Take("deg") || Take("degrees");
            return turn is { } deg && Segment.TurnDeg is null && Put(Segment with { TurnDeg = side * deg });
        }

        private bool Circle(int side)
        {
            Take("right");
            return Segment.TurnDeg is null && Put(Segment with { TurnDeg = side * 360 });
        }

        /// <summary>To a heading, the shorter way where no side is said.</summary>
        private bool TurnTo(int side)
        {
            if (Number() is not { } heading || Segment.TurnDeg is not null)
                return false;
            Take("°");
            var turn = Angles.DifferenceDeg(heading, start.HeadingMagDeg);
            if (side != 0 && turn != 0 && Math.Sign(turn) != side)
                turn += side * 360;
            return Put(Segment with { TurnDeg = turn == 0 ? (side == 0 ? 1 : side) * 360 : turn });
        }

        private bool Climb(int way)
        {
            var isTarget = Take("to");
            if (Number() is not { } given || Segment.ClimbFt is not null)
                return false;
            _ = Take("ft") || Take("feet");
            return Put(Segment with { ClimbFt = isTarget ? given - start.AltitudeFt : way * given });
        }

        private bool Speed(int way)
        {
            var isTarget = Take("to");
            Take("by");
            if (Number() is not { } given || Segment.SpeedChangeKt is not null)
                return false;
            _ = Take("kt") || Take("knots");
            return Put(Segment with { SpeedChangeKt = isTarget ? given - start.AirspeedKt : way * given });
        }

        /// <summary>A rate of turn or a vertical speed, told apart by unit, else by what is possible.</summary>
        private bool Rate()
        {
            if (More && words[at] is ("half" or "standard"))
                return NamedRate(words[at++]);
            if (Number() is not { } rate)
                return false;
            if (Take("fpm") || Take("ft/min") || (!(Take("°/s") || Take("deg/s") || Take("°")) && rate > TemplateLimits.TurnRateDegPerS))
                return Put(Segment with { VerticalSpeedFpm = rate });
            return Put(Segment with { TurnRateDegPerS = rate });
        }

        /// <summary>half rate, half standard rate, standard rate.</summary>
        private bool NamedRate(string word)
        {
            Take("standard");
            return Take("rate") && Put(Segment with { TurnRateDegPerS = TurnGeometry.StandardRateDegPerS / (word == "half" ? 2 : 1) });
        }

        private bool Time(string word)
        {
            if (word is "+" or "-")
            {
                return Number() is { } kt
                    && Take("kt")
                    && Segment.SpeedChangeKt is null
                    && Put(Segment with { SpeedChangeKt = word == "-" ? -kt : kt });
            }

            double seconds;
            if (word.Split(':') is [var minutes, var rest])
                seconds = (60 * Parse(minutes)) + Parse(rest);
            else if (char.IsAsciiDigit(word[0]))
                seconds = Take("min") || Take("minutes") || Take("minute") || Take("m") ? 60 * Parse(word) : Parse(word);
            else
                return false;
            _ = Take("s") || Take("sec") || Take("seconds");
            return Segment.DurationS is null && Put(Segment with { DurationS = seconds });
        }

        private double? Number()
        {
            if (!More || !char.IsAsciiDigit(words[at][0]) || words[at].Contains(':', StringComparison.Ordinal))
                return null;
            return Parse(words[at++]);
        }

        private static double Parse(string word) =>
            double.Parse(word.Replace(",", "", StringComparison.Ordinal), NumberStyles.Float, CultureInfo.InvariantCulture);

        private bool Take(string word)
        {
            if (!More || words[at] != word)
                return false;
            at++;
            return true;
        }

        private bool Put(Segment segment)
        {
            Segment = segment;
            return true;
        }
    }
}
