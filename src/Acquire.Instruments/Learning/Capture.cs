using System.Text;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>A capture cut into lines, and how it was cut.</summary>
/// <param name="Bytes">The bytes, ended where the last line was not.</param>
/// <param name="Framing">What begins and ends a line.</param>
/// <param name="TopBit">What the top bit of the bytes carries.</param>
/// <param name="LineEnds">The line ends seen, for the description.</param>
/// <param name="Lines">The lines, Latin-1, without what frames them; blank ones are left out.</param>
internal sealed record Capture(
    ReadOnlyMemory<byte> Bytes, FramingSettings Framing, TopBit TopBit, string LineEnds, ImmutableArray<string> Lines)
{
    private const int MostLines = 2000;

    /// <summary>The bytes with their times, where pauses end lines; else empty.</summary>
    public ImmutableArray<CaptureChunk> Chunks { get; init; } = [];

    /// <summary>Cuts a capture by its line ends.</summary>
    /// <exception cref="DeclinedException">Nothing in it ends a line, or it is no text.</exception>
    public static Capture Cut(ReadOnlyMemory<byte> received)
    {
        // A byte order mark is an editor's, not an instrument's.
        received = received.Span.StartsWith("\uFEFF"u8) ? received[3..] : received;
        var topBit = TopBits.Of(received.Span);
        var bytes = received.ToArray();
        var (framing, ends) = FramingGuess.Of(TopBits.Plain(bytes, topBit));
        if (TopBits.Plain(bytes, topBit) is [.., not ((byte)'\r' or (byte)'\n' or 0x0C) and var last] && framing.LineEnd == LineEnd.Any
            && last != framing.End)
        {
            bytes = [.. bytes, (byte)'\r', (byte)'\n'];
        }

        var framer = new LineFramer(framing, topBit != TopBit.Data);
        var frames = framer.Push(bytes, DateTimeOffset.UnixEpoch);
        return Of(new Capture(bytes, framing, topBit, ends, []), frames, framer.HasPending);
    }

    /// <summary>Cuts a capture by pauses, and by its line ends where it has any.</summary>
    /// <param name="chunks">The bytes with the times they came at.</param>
    /// <param name="gap">The pause that ends a line.</param>
    /// <exception cref="DeclinedException">It is no text.</exception>
    public static Capture Cut(ImmutableArray<CaptureChunk> chunks, TimeSpan gap)
    {
        var bytes = chunks.SelectMany(c => c.Bytes).ToArray();
        var topBit = TopBits.Of(bytes);
        var (framing, ends) = FramingGuess.Seen(TopBits.Plain(bytes, topBit)) ?? (new FramingSettings { LineEnd = LineEnd.None }, "none");
        var capture = new Capture(
            bytes, framing with { IdleGap = gap }, topBit,
            $"{ends}; a pause of {gap.TotalMilliseconds:0} ms ends a line",
            []) { Chunks = chunks };
        return Of(capture, [.. capture.Frames(topBit != TopBit.Data, capture.Framing)], hasRest: false);
    }

    /// <summary>The capture as lines of a framing, with its times where pauses end lines.</summary>
    public IEnumerable<LineFrame> Frames(bool maskTopBit, FramingSettings framing)
    {
        var framer = new LineFramer(framing, maskTopBit);
        if (Chunks.IsEmpty)
        {
            return [.. framer.Push(Bytes.Span, DateTimeOffset.UnixEpoch), .. framer.Finish()];
        }

        // The pause after the last chunk has ended its line too.
        List<LineFrame> frames = [.. Chunks.SelectMany(c => framer.Push(c.Bytes.AsSpan(), c.At))];
        return [.. frames, .. framer.Flush(Chunks[^1].At + (framing.IdleGap ?? TimeSpan.Zero)), .. framer.Finish()];
    }

    private static Capture Of(Capture cut, IReadOnlyList<LineFrame> frames, bool hasRest)
    {
        if (hasRest || frames.Any(f => f.Fault != FrameFault.None))
        {
            throw new DeclinedException(
                "A line of the capture is not whole: it is longer than 256 bytes, or stands outside its start and end characters. Capture "
                + "whole lines only.");
        }

        ImmutableArray<string> lines = [.. frames.Select(f => Encoding.Latin1.GetString(f.Line.Bytes.AsSpan())).Where(
            l => !string.IsNullOrWhiteSpace(l))];
        if (lines.Length > MostLines)
        {
            throw new DeclinedException(FormattableString.Invariant(
                $"The capture holds {lines.Length} lines, more than {MostLines}; capture a few readings only."));
        }

        return lines.IsEmpty ? throw new DeclinedException("The capture holds no line.") : cut with { Lines = lines };
    }
}

/// <summary>The ways to cut a capture into lines: by what ends lines in its bytes, and by its pauses where it has times.</summary>
internal static class CaptureCuts
{
    /// <summary>Each way that can be gone, the likeliest first; at least one.</summary>
    /// <exception cref="DeclinedException">There is none; the message says why.</exception>
    public static IReadOnlyList<Capture> Of(LearningInput input)
    {
        List<Capture> cuts = [];
        DeclinedException? declined = null;
        Try(() => Capture.Cut(input.Capture));
        foreach (var gap in PauseGaps.Of(input.Chunks))
        {
            Try(() => Capture.Cut(input.Chunks, gap));
        }

        // Line ends go before pauses, as pauses differ from system to system; but where the last line stays open, only a pause
        // would ever end it while somebody waits for the reading.
        return cuts is [{ Chunks.IsEmpty: true } plain, .. var paused] && EndsOpen(plain, input) ? [.. paused, plain]
            : cuts.Count > 0 ? cuts : throw declined!;

        void Try(Func<Capture> cut)
        {
            try
            {
                cuts.Add(cut());
            }
            catch (DeclinedException e)
            {
                declined ??= e;
            }
        }
    }

    /// <summary>Whether line ends stand between lines only, so that without a pause the last line
    /// of a reading would not end before the next begins.</summary>
    private static bool EndsOpen(Capture plain, LearningInput input) => plain.Bytes.Length > input.Capture.Length && !input.Chunks.IsEmpty;
}

/// <summary>Finds from the times of a capture which pauses may end lines.</summary>
internal static class PauseGaps
{
    private const double Clear = 3;
    private const int MostCandidates = 3;

    /// <summary>Adapters and systems hand bytes over in parcels up to so far apart,
    /// whatever the instrument does (common practice, no source).</summary>
    private static readonly TimeSpan Parcel = TimeSpan.FromMilliseconds(20);

    /// <summary>Waiting longer for the end of a line than this helps only where the pauses within lines are long too.</summary>
    private static readonly TimeSpan LongEnough = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);

    /// <summary>The pauses that may end a line, whole milliseconds, the clearest first: each lies between two
    /// pauses of the capture of which one is three times as long as the other at least, and none that was seen
    /// lies between them. Empty where no pause stands out.</summary>
    public static ImmutableArray<TimeSpan> Of(ImmutableArray<CaptureChunk> chunks)
    {
        var pauses = chunks.Skip(1).Select((c, i) => c.At - chunks[i].At).Where(p => p > Parcel).Append(Parcel).Order().ToList();
        return
        [
            .. pauses.Zip(pauses.Skip(1)).Where(p => p.Second >= p.First * Clear && p.First <= Longest / 2)
                .OrderByDescending(p => p.Second / p.First).Take(MostCandidates).Select(p => Between(p.First, p.Second)),
        ];
    }

    private static TimeSpan Between(TimeSpan within, TimeSpan between)
    {
        // The geometric middle: pauses differ by factors, from one system to the next too.
        var middle = within * Math.Sqrt(between / within);
        var most = within * 2 > LongEnough ? within * 2 : LongEnough;
        return TimeSpan.FromMilliseconds(Math.Floor((middle < most ? middle : most).TotalMilliseconds));
    }
}
