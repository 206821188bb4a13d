namespace DemoTerm;

/// <summary>A control strip of the history: when and where it ran, and what is said about it.</summary>
/// <param name="Name">By which others of the history refer to it.</param>
/// <param name="Lot">Its lot.</param>
/// <param name="Line">The line it ran in.</param>
/// <param name="Baths">The bottles it went through: developer, bleach, fixer.</param>
/// <param name="RanAt">When it ran.</param>
/// <param name="By">Who read it.</param>
internal sealed record StripPlan(string Name, HistoryLot Lot, string Line, ImmutableArray<string> Baths, DateTimeOffset RanAt, string By)
{
    /// <summary>What was wrong; null when nothing was.</summary>
    public Trouble? Trouble { get; init; }

    /// <summary>A note.</summary>
    public string? Note { get; init; }

    /// <summary>How it was handled.</summary>
    public string? Handling { get; init; }

    /// <summary>The strip that it was run to confirm.</summary>
    public string? Confirms { get; init; }

    /// <summary>The strip of the other lot that ran together with it.</summary>
    public string? PairedWith { get; init; }

    /// <summary>The line that was written down by mistake.</summary>
    public string? WrongLine { get; init; }

    /// <summary>The patch with a scratch.</summary>
    public string? Scratched { get; init; }
}

/// <summary>A strip that is read again.</summary>
/// <param name="Of">The strip.</param>
/// <param name="Treatment">What was done to it.</param>
/// <param name="By">Who read it.</param>
/// <param name="Note">A note.</param>
internal sealed record RereadPlan(string Of, Treatment Treatment, string By, string Note);
