namespace Acquire.Instruments.Lines;

/// <summary>What is wrong with a line as such, before anyone looks at what it says.</summary>
public enum FrameFault
{
    /// <summary>Nothing.</summary>
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
