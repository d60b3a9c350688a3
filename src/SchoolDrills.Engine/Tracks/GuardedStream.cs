using System.Globalization;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// The bytes of one recording on their way to a reader: limited in number, without long runs that a reader would have to hold in memory
/// (no line end, no <c>&lt;</c>), and cancellable.
/// </summary>
internal sealed class GuardedStream(Stream inner, long maxBytes, string maxBytesMessage, CancellationToken ct) : Stream
{
    private byte[] head = [];
    private int headRead;
    private long total;
    private byte[] marks = [];
    private int maxRun = int.MaxValue;
    private long run;
    private bool nulsAreLineEnds;
    private bool inNuls;

    /// <summary>The compressed stream was cut short or damaged; the bytes before that were passed on.</summary>
    public bool BrokenOff { get; private set; }

    /// <summary>What <see cref="Peek"/> returned, as the next read returns it again.</summary>
    public ReadOnlySpan<byte> Head => head;

    /// <summary>The first bytes, up to <paramref name="count"/>; the next read returns them again.</summary>
    public ReadOnlySpan<byte> Peek(int count)
    {
        var buffer = new byte[count];
        var length = 0;
        for (int n; length < count && (n = ReadInner(buffer.AsSpan(length))) > 0; )
            length += n;
        head = buffer[..length];
        return head;
    }

    /// <summary>Refuses, from here on, more than <paramref name="maxRun"/> bytes without one of <paramref name="marks"/>.</summary>
    public void RefuseRunsWithout(byte[] marks, int maxRun) => (this.marks, this.maxRun) = (marks, maxRun);

    /// <summary>
    /// From here on a block of NULs is passed on as one line end: a card allocates space ahead of its recording, and after a loss of power
    /// a file ends in, or contains, a stretch of NULs.
    /// </summary>
    public void ReadNulsAsLineEnds()
    {
        nulsAreLineEnds = true;
        head = head[..WithoutNuls(head)];
        headRead = 0;
    }

    public override int Read(Span<byte> buffer)
    {
        if (buffer.IsEmpty)
            return 0;
        int n;
        if (headRead < head.Length)
        {
            n = Math.Min(buffer.Length, head.Length - headRead);
            head.AsSpan(headRead, n).CopyTo(buffer);
            headRead += n;
        }
        else
        {
            // A read of nothing would be taken for the end of the file.
            int all;
            do
            {
                all = ReadInner(buffer);
                n = nulsAreLineEnds ? WithoutNuls(buffer[..all]) : all;
            } while (n == 0 && all > 0);
        }

        if (maxRun != int.MaxValue)
            CheckRun(buffer[..n]);
        return n;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    private int ReadInner(Span<byte> buffer)
    {
        ct.ThrowIfCancellationRequested();
        if (BrokenOff)
            return 0;
        int n;
        try
        {
            n = inner.Read(buffer);
        }
        catch (InvalidDataException) when (total > 0)
        {
            BrokenOff = true;
            return 0;
        }
        total += n;
        if (total > maxBytes)
            throw TrackRefusedException.TooLarge(maxBytesMessage);
        return n;
    }

    /// <summary>Puts one line end in place of each block of NULs, of one begun in the bytes before nothing; returns the length.</summary>
    private int WithoutNuls(Span<byte> bytes)
    {
        if (!bytes.Contains((byte)0))
        {
            inNuls &= bytes.IsEmpty;
            return bytes.Length;
        }
        var n = 0;
        foreach (var b in bytes)
        {
            if (b != 0)
                bytes[n++] = b;
            else if (!inNuls)
                bytes[n++] = (byte)'\n';
            inNuls = b == 0;
        }
        return n;
    }

    private void CheckRun(ReadOnlySpan<byte> bytes)
    {
        var last = bytes.LastIndexOfAny(marks);
        run = last >= 0 ? bytes.Length - last - 1 : run + bytes.Length;
        if (run > maxRun)
        {
            throw TrackRefusedException.Unreadable(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The file has a stretch of more than {maxRun / 1024:N0} KiB that is one single line or "
                        + $"element, which no recorder writes; export the recording again."
                )
            );
        }
    }

    public override bool CanRead => true;
    public override bool CanSeek => false;
    public override bool CanWrite => false;
    public override long Length => throw new NotSupportedException();
    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    public override void Flush() { }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
