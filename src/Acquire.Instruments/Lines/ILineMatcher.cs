namespace Acquire.Instruments.Lines;

/// <summary>Tries one rule on one line.</summary>
internal interface ILineMatcher
{
    /// <summary>Never throws and takes time in proportion to the line's length.</summary>
    LineMatch Match(ReadOnlySpan<byte> line);
}
