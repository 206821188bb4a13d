using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>What is wrong with a line as such, before anyone looks at what it says.</summary>
public enum FrameFault
{
    None,

    /// <summary>It was longer than the profile allows; the rest up to its end was dropped and counted.</summary>
    TooLong,

    /// <summary>It came where no line was open: before the start character.</summary>
    OutsideFrame,

    /// <summary>A new start character came before the line's end.</summary>
    CutByStart,

    /// <summary>The link ended before the line did.</summary>
    Unfinished,
}

/// <summary>One line cut from the stream of bytes.</summary>
/// <param name="Line">The bytes without start, end and terminator, and when the last of them came.</param>
/// <param name="Fault">What is wrong with it; a line with a fault is never parsed.</param>
public readonly record struct LineFrame(RawLine Line, FrameFault Fault);

/// <summary>Cuts bytes into lines. It holds at most <see cref="FramingSettings.MaxLength"/> bytes, gives every byte back in some frame but
/// for terminators, NULs and the counted rest of a line that is too long, and emits no empty lines. For one reader at a time.</summary>
/// <param name="settings">What ends a line.</param>
/// <param name="maskTopBit">Whether the top bit of every byte is cleared first.</param>
public sealed class LineFramer(FramingSettings settings, bool maskTopBit = false)
{
    private const byte Nul = 0x00;
    private const byte LineFeed = 0x0A;
    private const byte FormFeed = 0x0C;
    private const byte CarriageReturn = 0x0D;

    private readonly byte[] _buffer = new byte[settings.MaxLength];
    private readonly List<LineFrame> _frames = [];

    // Where nothing else ends a line, the next start does.
    private readonly bool _hasEnd = settings.End is not null || settings.LineEnd != LineEnd.None;

    private int _length;
    private DateTimeOffset _lastByteAt;
    private bool _inside = settings.Start is null;
    private bool _dropping;

    // The first half of a two-byte terminator, not yet known to be one.
    private byte? _half;

    /// <summary>Whether a line has begun and not ended.</summary>
    public bool HasPending => _length > 0 || _dropping || _half is not null;

    /// <summary>When the idle gap will end the pending line; null when there is none or pauses mean nothing.</summary>
    public DateTimeOffset? Deadline => HasPending && settings.IdleGap is { } gap ? _lastByteAt + gap : null;

    /// <summary>Takes a chunk and gives the lines that it ends, in order.</summary>
    /// <param name="chunk">The bytes as received, cut anywhere.</param>
    /// <param name="receivedAt">When they were received.</param>
    public IReadOnlyList<LineFrame> Push(ReadOnlySpan<byte> chunk, DateTimeOffset receivedAt)
    {
        _frames.Clear();

        // The pause before this chunk counts first: without it the chunk would be glued to a line that the pause had ended.
        EndAtGap(receivedAt);
        foreach (var received in chunk)
        {
            _lastByteAt = receivedAt;
            Take(maskTopBit ? (byte)(received & 0x7F) : received);
        }

        return [.. _frames];
    }

    /// <summary>Ends the pending line when the idle gap has passed.</summary>
    public IReadOnlyList<LineFrame> Flush(DateTimeOffset now)
    {
        _frames.Clear();
        EndAtGap(now);
        return [.. _frames];
    }

    /// <summary>Gives what is pending as an unfinished line, because nothing more will come.</summary>
    public IReadOnlyList<LineFrame> Finish()
    {
        _frames.Clear();
        End(FrameFault.Unfinished);
        return [.. _frames];
    }

    private void EndAtGap(DateTimeOffset now)
    {
        if (Deadline is { } deadline && now >= deadline)
        {
            End(FrameFault.None);
        }
    }

    private void Take(byte b)
    {
        if (b == Nul)
        {
            return;
        }

        if (b == settings.Start)
        {
            End(_inside && _hasEnd ? FrameFault.CutByStart : FrameFault.None);
            _inside = true;
        }
        else if (b == settings.End || b == FormFeed)
        {
            End(FrameFault.None);
        }
        else if (!_inside && b is CarriageReturn or LineFeed)
        {
            // Line ends between blocks are no content; without this they would come out as noise of their own.
            End(FrameFault.None);
        }
        else
        {
            TakeInside(b);
        }
    }

    private void TakeInside(byte b)
    {
        var (first, second) = settings.LineEnd switch
        {
            LineEnd.CrLf => (CarriageReturn, (byte?)LineFeed),
            LineEnd.LfCr => (LineFeed, CarriageReturn),
            LineEnd.Cr => (CarriageReturn, null),
            LineEnd.Lf => (LineFeed, null),
            _ => ((byte)0, null),
        };
        var ends = settings.LineEnd switch
        {
            LineEnd.Any => b is CarriageReturn or LineFeed,
            LineEnd.None => false,
            _ when second is null => b == first,
            _ => _half is not null && b == second,
        };
        if (ends)
        {
            _half = null;
            End(FrameFault.None);
            return;
        }

        ReleaseHalf();
        if (second is not null && b == first)
        {
            _half = b;
        }
        else
        {
            Append(b);
        }
    }

    private void ReleaseHalf()
    {
        if (_half is { } held)
        {
            _half = null;
            Append(held);
        }
    }

    private void Append(byte b)
    {
        if (_dropping)
        {
            return;
        }

        if (_length == _buffer.Length)
        {
            // What came so far is given at once, so that memory is bounded and the user sees what arrives at a wrong rate.
            Emit(FrameFault.TooLong);
            _dropping = true;
            return;
        }

        _buffer[_length++] = b;
    }

    private void End(FrameFault fault)
    {
        ReleaseHalf();
        if (_length > 0)
        {
            Emit(_inside ? fault : FrameFault.OutsideFrame);
        }

        _dropping = false;
        _inside = settings.Start is null;
    }

    private void Emit(FrameFault fault)
    {
        _frames.Add(new LineFrame(new RawLine([.. _buffer.AsSpan(0, _length)], _lastByteAt), fault));
        _length = 0;
    }
}
