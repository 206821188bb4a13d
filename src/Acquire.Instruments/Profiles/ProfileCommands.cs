namespace Acquire.Instruments.Profiles;

/// <summary>
/// What may be sent to an instrument. Nothing else ever is, and nothing at all to an instrument whose profile has no commands.
/// </summary>
public sealed record ProfileCommands
{
    public static ProfileCommands None { get; } = new();

    /// <summary>Sent in this order each time the port has been opened.</summary>
    public ImmutableArray<OpeningCommand> AfterOpening { get; init; } = [];

    /// <summary>Lets the instrument read; null where only its own key does.</summary>
    public TriggerCommand? Trigger { get; init; }

    /// <summary>Asks the instrument what it is; null where it does not say.</summary>
    public IdentifyCommand? Identify { get; init; }

    /// <summary>All byte strings, each with its place among the commands, such as <c>afterOpening/0</c>.</summary>
    public IEnumerable<(string Place, ImmutableArray<byte> Bytes)> All =>
    [
        .. AfterOpening.Select((c, i) => (FormattableString.Invariant($"afterOpening/{i}"), c.Bytes)),
        .. Trigger is null ? [] : new[] { ("trigger", Trigger.Bytes) },
        .. Identify is null ? [] : new[] { ("identify", Identify.Bytes) },
    ];
}

/// <param name="ThenWait">How long nothing more is sent after it, 0 … 10 s.</param>
public sealed record OpeningCommand(ImmutableArray<byte> Bytes, TimeSpan ThenWait);

/// <param name="Within">Within how long a reading must have come, 0.1 … 120 s.</param>
public sealed record TriggerCommand(ImmutableArray<byte> Bytes, TimeSpan Within);

/// <param name="Answer">The line that is the answer, with places for what the instrument says of itself.</param>
/// <param name="Within">Within how long it must have come, 0.1 … 60 s.</param>
public sealed record IdentifyCommand(ImmutableArray<byte> Bytes, LineTemplate Answer, TimeSpan Within);

/// <summary>What an instrument says it is; null for what it does not say. One of them at least is said.</summary>
/// <param name="Serial">Its serial number, as it writes it.</param>
/// <param name="Version">The version of its own program.</param>
/// <param name="Type">Its type, as it writes it.</param>
public sealed record InstrumentIdentity(string? Serial, string? Version, string? Type)
{
    /// <summary>The places of an answer's template, in the order of the members.</summary>
    internal static ImmutableArray<string> Places { get; } = ["serial", "version", "type"];

    /// <summary>From what is known by the name of its place.</summary>
    internal static InstrumentIdentity Of(Func<string, string?> said) => new(said(Places[0]), said(Places[1]), said(Places[2]));

    /// <summary>What stands in the place of that name.</summary>
    internal string? this[string place] => place == Places[0] ? Serial : place == Places[1] ? Version : place == Places[2] ? Type : null;

    /// <summary>For example <c>serial 10427, version 1.2</c>.</summary>
    public override string ToString() => string.Join(", ", Places.Where(p => this[p] is not null).Select(p => $"{p} {this[p]}"));
}
