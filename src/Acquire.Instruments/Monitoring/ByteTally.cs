using System.Numerics;

namespace Acquire.Instruments.Monitoring;

/// <summary>
/// Counts what tells of rate, framing and line ends in a stream of bytes. Line ends count whether or not they carry a parity bit.
/// </summary>
public sealed class ByteTally
{
    private const int SevenBits = 0x7F;

    private int _pending;

    /// <summary>All bytes.</summary>
    public long Bytes { get; private set; }

    /// <summary>Bytes with the top bit set.</summary>
    public long TopBits { get; private set; }

    /// <summary>Bytes with an even number of bits set, all eight counted.</summary>
    public long Even { get; private set; }

    /// <summary>Bytes that are text when the top bit is left aside: printable ASCII, tab, line ends, form feed, STX, ETX.</summary>
    public long Text { get; private set; }

    /// <summary>Carriage returns followed by a line feed.</summary>
    public long CrLf { get; private set; }

    /// <summary>Line feeds followed by a carriage return.</summary>
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
