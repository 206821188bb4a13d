using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.StripWork;

/// <summary>
/// The thinnest patch of a lot's strips from day to day: fog and base stay where a process is in order, so what it moves by from one day to
/// the next beyond reading is for the most part the zero, and the zero moves no more than that. A slow drift of the process is not in it,
/// since neighbours are compared.
/// </summary>
/// <param name="Instrument">Name of the instrument; null for strips that name none.</param>
/// <param name="Density">Its mean over days and channels.</param>
/// <param name="Channels">How many channels it was read in.</param>
/// <param name="Reads">How many reads a mean is of.</param>
/// <param name="Step">Display step, in density.</param>
/// <param name="Pairs">How many neighbouring days there are.</param>
/// <param name="Squares">Sum of the squares of the steps from day to day, the channels averaged; density squared.</param>
public sealed record ThinnestPatch(
    string? Instrument, double Density, int Channels, double Reads, double Step, int Pairs, double Squares)
{
    /// <summary>Neighbouring differences share a day, so they are worth two thirds of their number (von Neumann's mean square successive
    /// difference has two thirds of the efficiency of the usual estimate; <i>Annals of Mathematical Statistics</i> 12, 1941).</summary>
    private const double Worth = 2.0 / 3;

    /// <summary>Of the strips of one instrument, lot by lot.</summary>
    public static IEnumerable<ThinnestPatch> Of(IEnumerable<StripRecord> strips) =>
        from lot in strips.GroupBy(
            s => (Instrument: s.Provenance.Instrument?.Name.ToUpperInvariant(), Lot: s.LotCode.ToUpperInvariant()))
        let means = lot.SelectMany(s => s.Means.Select(m => (Day: s.Provenance.At.UtcDateTime.Date, Mean: m))).ToList()
        where means.Count > 0
        let patch = means.GroupBy(m => m.Mean.PatchKey.ToUpperInvariant()).MinBy(p => p.Average(m => m.Mean.Mean))!
        let days = patch.GroupBy(m => m.Day).OrderBy(d => d.Key).Select(d => d.Average(m => m.Mean.Mean)).ToList()
        select new ThinnestPatch(
            lot.First().Provenance.Instrument?.Name, patch.Average(m => m.Mean.Mean), patch.Select(m => m.Mean.Channel).Distinct().Count(),
            patch.Average(m => m.Mean.Reads), patch.Max(m => m.Mean.Resolution), days.Count - 1,
            days.Zip(days.Skip(1), (a, b) => (b - a) * (b - a)).Sum());

    /// <summary>What it says of the zero; null with one day.</summary>
    internal ZeroMove? Move(InstrumentKnowledge instrument)
    {
        if (Pairs < 1)
        {
            return null;
        }

        var noise = Domain.Densitometry.Channels.Colours.Average(c => instrument.At(c, Density).VarianceOfMean(Reads, Step)) / Channels;
        return new ZeroMove((Squares / Pairs / 2) - noise, Worth * Pairs);
    }
}
