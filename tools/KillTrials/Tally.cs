namespace KillTrials;

/// <summary>What came of some trials.</summary>
/// <param name="Name">What was going on when the program was killed.</param>
public sealed record Tally(string Name)
{
    /// <summary>How often the program was started.</summary>
    public int Runs { get; set; }

    /// <summary>How often it was killed; the others were done before.</summary>
    public int Killed { get; set; }

    /// <summary>How many readings it had acknowledged.</summary>
    public int Acknowledged { get; set; }

    /// <summary>How many strips or copies were found whole, or stores found upgraded at least in part.</summary>
    public int Finished { get; set; }

    /// <summary>Everything that should not be.</summary>
    public List<string> Wrong { get; } = [];

    /// <summary>
    /// Whether so many runs are enough: when a kill falls is up to the machine, and where none has met the program yet, or nothing was
    /// finished yet, the trials go on, up to ten times as many.
    /// </summary>
    public bool IsEnough(int runs) => Runs >= runs && ((Killed > 0 && Finished > 0) || Runs >= 10 * runs);

    /// <inheritdoc/>
    public override string ToString() =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{Name,-10} {Runs,5} runs {Killed,5} killed {Acknowledged,7} readings acknowledged {Finished,5} finished {Wrong.Count,5} "
            + $"wrong");

    /// <summary>Notes what should not be.</summary>
    public void Demand(bool holds, string otherwise)
    {
        if (!holds)
        {
            Wrong.Add($"run {Runs}: {otherwise}");
        }
    }
}
