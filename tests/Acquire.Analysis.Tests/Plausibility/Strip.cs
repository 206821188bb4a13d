using Acquire.Analysis.Gauge;
using Acquire.Analysis.Plausibility;
using Acquire.Analysis.Tests.Judgement;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Plausibility;

/// <summary>Strips of the usual five patches, read three times each some seconds apart, with what somebody did wrong.</summary>
internal static class Strip
{
    public const double Repeatability = 0.006;

    public static double[][] OnAim { get; } = [.. Some.Densities.Select(d => new[] { (double)d.R, (double)d.G, (double)d.B })];

    public static StripKnowledge Knowledge { get; } = new(Some.C41, Some.C41.Layout)
    {
        Aims = Aims(OnAim),
        Instrument = Tested(Repeatability),
    };

    /// <summary>An instrument that a test has shown to repeat so, at all densities alike.</summary>
    public static InstrumentKnowledge Tested(double repeatability) =>
        InstrumentKnowledge.Of("bench", Channels.Colours.Select(c => new PatchRepeats(c, null, repeatability, 27)));

    public static ImmutableArray<Aim> Aims(double[][] densities) =>
    [
        .. from slot in Enumerable.Range(0, densities.Length)
           from channel in Channels.Colours
           select new Aim(Some.C41.Layout.Patches[slot].Key, channel, densities[slot][(int)channel], 0, 0.003),
    ];

    /// <summary>The true densities with a change by slot and colour.</summary>
    public static double[][] Moved(Func<int, int, double> by, double[][]? from = null) =>
        [.. (from ?? OnAim).Select((patch, slot) => patch.Select((d, c) => d + by(slot, c)).ToArray())];

    /// <summary>Reads a strip; the same seed gives the same scatter.</summary>
    public static ImmutableArray<PatchReads> Read(
        double[][] densities, int seed = 1, int reads = 3, int decimals = 2, double scatter = Repeatability,
        Func<(int Slot, int Read, double Seconds), double>? off = null)
    {
        var random = new Random(seed);
        var seconds = 0.0;
        return
        [
            .. densities.Select((patch, slot) => new PatchReads(
                Some.C41.Layout.Patches[slot],
                [
                    .. Enumerable.Range(0, reads).Select(read =>
                    {
                        seconds += read == 0 ? 9 : 5;
                        var shift = off?.Invoke((slot, read, seconds)) ?? 0;
                        return Of(patch.Select(d => d + shift + (scatter * random.Normal())), seconds, decimals);
                    }),
                ])),
        ];
    }

    public static PatchRead Of(IEnumerable<double> densities, double seconds, int decimals = 2)
    {
        var shown = densities.Select(d => decimal.Round((decimal)d, decimals) + new decimal(0, 0, 0, false, (byte)decimals)).ToArray();
        var values = ChannelDensities.Rgb(shown[0], shown[1], shown[2]);
        var at = Some.Time.AddSeconds(seconds);
        return new PatchRead(new Reading(values, at, [RawLine.OfText(values.ToString(), at)]));
    }

    /// <summary>The strip as it stood when so many reads were taken.</summary>
    public static ImmutableArray<PatchReads> Until(this ImmutableArray<PatchReads> patches, int reads)
    {
        var left = reads;
        return
        [
            .. patches.Select(p =>
            {
                var taken = Math.Min(left, p.Reads.Length);
                left -= taken;
                return p with { Reads = p.Reads[..taken] };
            }),
        ];
    }

    /// <summary>Follows the reading, and gives the first question, whenever it came.</summary>
    public static Suspicion? FirstQuestion(this StripKnowledge knowledge, ImmutableArray<PatchReads> patches)
    {
        var check = new PlausibilityCheck(knowledge);
        return Enumerable.Range(1, patches.Sum(p => p.Reads.Length))
            .Select(n => check.QuestionAfterRead(patches.Until(n)))
            .FirstOrDefault(q => q is not null)
            ?? check.QuestionWhenComplete(patches);
    }

    public static Suspicion? AfterRead(this StripKnowledge knowledge, ImmutableArray<PatchReads> patches) =>
        new PlausibilityCheck(knowledge).QuestionAfterRead(patches);

    public static Suspicion? AtEnd(this StripKnowledge knowledge, ImmutableArray<PatchReads> patches) =>
        new PlausibilityCheck(knowledge).QuestionWhenComplete(patches);
}
