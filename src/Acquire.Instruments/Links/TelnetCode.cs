namespace Acquire.Instruments.Links;

/// <summary>The bytes of the telnet protocol that a serial line needs (RFC 854, RFC 856, RFC 858, RFC 2217).</summary>
internal static class TelnetCode
{
    /// <summary>Interpret as command; doubled, it stands for itself.</summary>
    public const byte Iac = 255;

    /// <summary>Do not use an option, or agreement not to.</summary>
    public const byte Dont = 254;

    /// <summary>Use an option, or agreement to.</summary>
    public const byte Do = 253;

    /// <summary>The sender does not use an option.</summary>
    public const byte Wont = 252;

    /// <summary>The sender wants to use an option, or agrees to.</summary>
    public const byte Will = 251;

    /// <summary>Begins the parameters of an option.</summary>
    public const byte Begin = 250;

    /// <summary>Ends the parameters of an option.</summary>
    public const byte End = 240;

    /// <summary>Eight-bit data without changes (RFC 856).</summary>
    public const byte Binary = 0;

    /// <summary>No go-ahead after each message (RFC 858).</summary>
    public const byte SuppressGoAhead = 3;

    /// <summary>The serial port behind the server can be set (RFC 2217).</summary>
    public const byte ComPort = 44;
}
