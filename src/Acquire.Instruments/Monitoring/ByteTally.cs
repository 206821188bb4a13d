using System.Numerics;

namespace Acquire.Instruments.Monitoring;

/// <summary>Counts what tells of rate, framing and line ends in a stream of bytes. Line
/// ends count whether or not they carry a parity bit.</summary>
public sealed class ByteTally
{
    private const int SevenBits = 0x7F;

    private int _pending;

    public long Bytes { get; private set; }

    /// <summary>Bytes with the top bit set.</summary>
    public long TopBits { get; private set; }

    /// <summary>Bytes with an even number of bits set, all eight counted.</summary>
    public long Even { get; private set; }

    /// <summary>Bytes that are text when the top bit is left aside: printable ASCII, tab, line ends, form feed, STX, ETX.</summary>
    public long Text { get; private set; }

    public long CrLf { get; private set; }

    public long LfCr { get; private set; }

    /// <summary>Carriage returns alone.</summary>
    public long Cr => _cr + (_pending == '\r' ? 1 : 0);

    /// <summary>Line feeds alone.</summary>
    public long Lf => _lf + (_pending == '\n' ? 1 : 0);

    /// <summary>Start characters STX (0x02).</summary>
    public long Stx { get; private set; }

    /// <summary>End characters ETX (0x03).</summary>
    public long Etx { get; private set; }

    private long _cr;
    private long _lf;

    /// <summary>Counts a chunk, cut anywhere.</summary>
    public void Add(ReadOnlySpan<byte> chunk)
    {
        foreach (var b in chunk)
        {
            Bytes++;
            TopBits += b >> 7;
            Even += 1 - (BitOperations.PopCount(b) & 1);
            var c = b & SevenBits;
            Text += c is (>= 0x20 and < 0x7F) or '\t' or '\r' or '\n' or '\f' or 2 or 3 ? 1 : 0;
            Stx += c == 2 ? 1 : 0;
            Etx += c == 3 ? 1 : 0;
            CountEnd(c);
        }
    }

    private void CountEnd(int c)
    {
        switch (_pending, c)
        {
            case ('\r', '\n'):
                CrLf++;
                _pending = 0;
                break;
            case ('\n', '\r'):
                LfCr++;
                _pending = 0;
                break;
            default:
                (_cr, _lf) = (Cr, Lf);
                _pending = c is '\r' or '\n' ? c : 0;
                break;
        }
    }
}

/// <summary>What a tally of bytes says about the line settings, in words for the user. Hints, not proofs.</summary>
public static class TallyWords
{
    private const int FewBytes = 24;
    private const double MostlyText = 0.95;

    /// <summary>The line ends that were seen, the usual one first.</summary>
    public static string LineEnds(ByteTally tally)
    {
        (string Word, long Count)[] ends =
        [
            ("CR LF", tally.CrLf), ("LF CR", tally.LfCr), ("CR", tally.Cr), ("LF", tally.Lf), ("STX", tally.Stx), ("ETX", tally.Etx),
        ];
        var seen = ends.Where(e => e.Count > 0).OrderByDescending(e => e.Count)
            .Select(e => FormattableString.Invariant($"{e.Word} {e.Count} times"))
            .ToList();
        return seen.Count == 0 ? "No line end was seen; a pause may end the lines." : $"Line ends: {string.Join(", ", seen)}.";
    }

    /// <summary>What the top bits say about data bits and parity.</summary>
    public static string Parity(ByteTally tally)
    {
        if (tally.Bytes < FewBytes)
        {
            return FormattableString.Invariant($"{tally.Bytes} bytes are too few to say anything about parity.");
        }

        var share = FormattableString.Invariant(
            $"Top bit set in {100.0 * tally.TopBits / tally.Bytes:0} % of the bytes, text in {100.0 * tally.Text / tally.Bytes:0} %: ");
        var isText = tally.Text >= MostlyText * tally.Bytes;
        return share + (isText, tally) switch
        {
            (false, _) => "the rate or the framing is probably wrong. Try another --baud.",
            (_, { TopBits: 0 }) => "the settings fit; no parity bit gets in.",
            (_, var t) when t.TopBits == t.Bytes => "a parity bit that is always 1. Try --data-bits 7 --parity mark.",
            (_, var t) when t.Even == t.Bytes => "the top bit is an even parity bit. Try --data-bits 7 --parity even.",
            (_, var t) when t.Even == 0 => "the top bit is an odd parity bit. Try --data-bits 7 --parity odd.",
            _ => "the top bit is no parity bit; there are characters beyond ASCII, or some bytes are damaged.",
        };
    }
}
