using Acquire.Analysis.Gauge;

namespace Acquire.Bench.Trust;

/// <summary>The reference strip as a check standard: read again from time to time, it shows whether the instrument has moved.</summary>
/// <param name="Series">Patch by patch, channel by channel; the reading that makes the aims is the first occasion.</param>
public sealed record RecheckReview(ImmutableArray<ReferenceChart> Series) : KeptReading
{
    /// <summary>The most occasions that the limits rest on; later ones are only held against them.</summary>
    public const int Baseline = 10;

    /// <summary>
    /// The instrument that read it for the first time, so that there is nothing yet to hold its reading against; null mostly.
    /// </summary>
    public string? BeginsWith { get; init; }

    /// <summary>How many limits the newest occasion leaves in mean.</summary>
    public int Outside => Series.Count(s => s.Chart.Points[^1].MeanOutside);

    /// <summary>
    /// How many limits chance alone may leave. Each is left once in twenty times, so of fifteen one or two often are; more than this many
    /// are by chance only once in twenty times (binomial).
    /// </summary>
    public int LeftByChance => MostByChance(Series.Length);

    /// <summary>Whether the newest occasion leaves no more limits than chance explains.</summary>
    public override bool Holds => Outside <= LeftByChance;

    /// <summary>How far the newest mean lies from the first, in density.</summary>
    public static double Moved(ReferenceChart series) => series.Chart.Points[^1].Occasion.Mean - series.Chart.Points[0].Occasion.Mean;

    /// <summary>Reviews the readings of the instrument that read it last: two instruments differ without either having moved. The first
    /// reading counts where it is that one's, or nobody said whose it is. The newest occasion stays out of its own limits as soon as two
    /// others can make them.</summary>
    /// <exception cref="GaugeException">The reference strip was not read again since.</exception>
    public static RecheckReview Of(LotReference first, IReadOnlyCollection<ReferenceRecheck> again)
    {
        var later = again.Where(r => r.Provenance.At >= first.Provenance.At).OrderBy(r => r.Provenance.At).ToList();
        if (later.Count == 0)
        {
            throw new GaugeException(
                $"The reference strip of lot {first.LotCode} was not read again yet: "
                + $"acquire lot recheck {first.LotCode} --instrument NAME");
        }

        var used = later[^1].Provenance.Instrument?.Name;
        var occasions = later.Where(r => IsOf(r.Provenance.Instrument?.Name)).Select(r => (r.Provenance.At, r.Patches)).ToList();
        if (IsOf(first.InstrumentName))
        {
            occasions.Insert(0, (first.Provenance.At, first.Patches));
        }

        return occasions.Count < 2
            ? new RecheckReview([]) { BeginsWith = used }
            : new RecheckReview(ReferenceHistory.Of(
                [.. occasions.Select(o => (Numbers.Moment(o.At), RepeatabilityData.Of(o.Patches)))],
                Math.Clamp(occasions.Count - 1, 2, Baseline)));

        bool IsOf(string? instrument) => used is null || instrument is null || Keys.Same(instrument, used);
    }

    private static int MostByChance(int series)
    {
        // Binomial: terms are added until what is left of the tail is a chance of one in twenty.
        const double Each = 0.05;
        var (term, sum, k) = (Math.Pow(1 - Each, series), 0.0, 0);
        for (; k < series; k++)
        {
            sum += term;
            if (sum >= 0.95)
            {
                break;
            }

            term *= (series - k) / (k + 1.0) * (Each / (1 - Each));
        }

        return k;
    }
}
