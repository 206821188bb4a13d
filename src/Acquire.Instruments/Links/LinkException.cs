namespace Acquire.Instruments.Links;

/// <summary>What is wrong with a link.</summary>
public enum LinkFault
{
    /// <summary>There is no such port or host.</summary>
    NotFound,

    /// <summary>Somebody else holds the port.</summary>
    InUse,

    /// <summary>The user may not open the port.</summary>
    Denied,

    /// <summary>The address or a setting is wrong.</summary>
    BadSettings,

    /// <summary>The port or its other end went away while it was open.</summary>
    Gone,

    /// <summary>Any other failure of reading or writing.</summary>
    Broken,
}

/// <summary>A link that cannot be opened or has broken. The message names the port, the trouble and the remedy.</summary>
public sealed class LinkException(LinkFault fault, string message, Exception? inner = null) : Exception(message, inner)
{
    /// <summary>What is wrong.</summary>
    public LinkFault Fault { get; } = fault;
}
