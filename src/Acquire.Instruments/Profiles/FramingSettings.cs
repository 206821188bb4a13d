namespace Acquire.Instruments.Profiles;

/// <summary>What ends a line.</summary>
public enum LineEnd
{
    /// <summary>Any run of carriage returns and line feeds.</summary>
    Any,
    Cr,
    Lf,
    CrLf,
    LfCr,

    /// <summary>Nothing but a pause, or the end character where one is set.</summary>
    None,
}

/// <summary>How bytes are cut into lines. NUL bytes are padding and are dropped; a form feed ends a line.</summary>
public sealed record FramingSettings
{
    /// <summary>What ends a line. Default any.</summary>
    public LineEnd LineEnd { get; init; } = LineEnd.Any;

    /// <summary>A pause that ends a line; null when pauses mean nothing. 5 ms … 60 s. Default null.</summary>
    public TimeSpan? IdleGap { get; init; }

    /// <summary>The most bytes of a line, 8 … 4096; a longer one is cut, marked and counted. Default 256.</summary>
    public int MaxLength { get; init; } = 256;

    /// <summary>The byte that begins a line (often STX, 0x02); what comes before it is noise. Null for none.</summary>
    public byte? Start { get; init; }

    /// <summary>The byte that ends a line (often ETX, 0x03), besides <see cref="LineEnd"/>. Null for none.</summary>
    public byte? End { get; init; }
}
