namespace TruthBenchmark.World;

/// <summary>
/// A strip that somebody wrote down after whatever befell it, read once in a small darkroom; its reference was read three times.
/// </summary>
internal static class StripStory
{
    private static readonly AimStory Aims = new(Origin.Instrument, 3);

    /// <param name="befalls">What becomes of the strip's true densities.</param>
    /// <param name="scatter">How runs of the process scatter at LD.</param>
    /// <param name="before">How many ordinary strips of the line came before.</param>
    public static House Of(Dice dice, Func<Cells, Cells> befalls, double scatter = 0.008, int before = 0)
    {
        var emulsion = Emulsion.Draw(dice);
        var instrument = HistoryStory.Bench;
        // The maker chooses a reference strip that lies where the lot does; its factors see to the rest.
        var reference = Aims.Write(instrument, emulsion.OnAim, dice, Days.At(-2));
        var runs = new Process(scatter, 0.3).Strips(dice, before + 1).ToList();
        var strips = runs.Select((run, i) =>
        {
            var strip = emulsion.Strip(dice) + run;
            return new StripFacts(Days.At(i), "2417", instrument.Sit(dice).Read(i < before ? strip : befalls(strip)));
        });
        return new House { Lots = [new LotFacts("2417", reference)], Strips = [.. strips] };
    }
}
