namespace Acquire.Analysis.Plausibility;

/// <summary>The strip is of another lot than the aims it is compared with.</summary>
internal sealed class LotHypotheses(StripModel model)
{
    private const double KnownPrior = 0.01;
    private const double UnknownPrior = 0.003;

    // Lots of one make differ by some hundredths, patch by patch and colour by colour; common practice, no source.
    private const double Difference = 0.035;

    public IEnumerable<Hypothesis> Of()
    {
        ImmutableArray<int> all = [.. model.Slots];
        foreach (var lot in model.Knowledge.OtherLots)
        {
            yield return new Hypothesis(
                $"lot {lot.Code}", SuspicionKind.WrongLot, KnownPrior / model.Knowledge.OtherLots.Length, all,
                $"This strip fits the aims of lot {lot.Code}. What code number is on it? Judge it by lot {lot.Code}?",
                new Remedy.ChooseLot(lot.Code),
                data => Explanation.Reads(data, model, cell => cell) is { } plain && Shift(data, lot) is { } shift
                    ? plain with { Shift = shift }
                    : null);
        }

        yield return new Hypothesis(
            "lot unknown", SuspicionKind.WrongLot, UnknownPrior, all,
            "The deviations follow no pattern of a process. Is this strip of the lot whose aims are used?",
            new Remedy.ChooseLot(null),
            data => Explanation.Reads(data, model, cell => cell) is { } plain ? plain with { OwnError = Difference } : null);
    }

    private double[]? Shift(StripData data, OtherLot lot)
    {
        var shift = data.Cells.Select(c =>
            StripKnowledge.Find(lot.Aims, model.Patches[c.Slot].Key, c.Channel) is { } other && model.Find(c.Slot, c.Channel) is { } own
                ? other.Value - model.Aims[own]
                : double.NaN).ToArray();
        return shift.Any(double.IsNaN) ? null : shift;
    }
}

/// <summary>The instrument was set wrongly or is off. The sizes of the errors are rough; common practice, no source.</summary>
internal sealed class InstrumentHypotheses(StripModel model)
{
    private const double RelativePrior = 0.004;
    private const double ZeroPrior = 0.01;
    private const double SlopePrior = 0.004;
    private const double StatusPrior = 0.004;
    private const double DriftPrior = 0.005;
    private const double ZeroSize = 0.04;
    private const double DriftSize = 0.07;
    private const int LeastToDrift = 3;
    private const double SlopeSize = 0.03;
    private const double StatusSlope = 0.06;
    private const double StatusOffset = 0.03;

    /// <summary>The instrument shows differences from one of the strip's own patches.</summary>
    public IEnumerable<Hypothesis> Relative(StripData data)
    {
        var slots = model.Slots.ToList();
        return slots.Select(zero => new Hypothesis(
            $"relative {zero}",
            SuspicionKind.RelativeMode,
            RelativePrior / slots.Count,
            data.Slots,
            $"These values are differences from {model.Patches[zero].Name}: the instrument is in its relative mode, or was zeroed on "
            + "that patch, or nothing is in the gate. Set the zero on the open gate and read the strip again?",
            new Remedy.SwitchInstrument("absolute densities, zeroed on the open gate"),
            d => Explanation.Sums(d, model, cell => [(cell, 1), (cell with { Slot = zero }, -1)])));
    }

    /// <summary>Patterns over all patches.</summary>
    public IEnumerable<Hypothesis> Patterns()
    {
        ImmutableArray<int> all = [.. model.Slots];
        yield return new Hypothesis(
            "zero",
            SuspicionKind.DirtyZero,
            ZeroPrior,
            all,
            "All patches and colours are off by about the same: the zero looks wrong. Clean the aperture, set the zero and read the "
            + "strip again?",
            new Remedy.CheckZero(),
            Pattern(d => [[.. d.Cells.Select(_ => ZeroSize)]]));
        yield return new Hypothesis(
            "slope", SuspicionKind.SlopeError, SlopePrior, all,
            "The deviations grow in step with density: the instrument's slope looks wrong. Check it on the plaque?",
            new Remedy.CheckSlope(), Pattern(d => [[.. d.Cells.Select(c => SlopeSize * model.AimOf(c))]]));
        yield return new Hypothesis(
            "status",
            SuspicionKind.WrongStatus,
            StatusPrior,
            all,
            $"Each colour is off by its own share of the density, as with another status. Is the instrument set to status "
            + $"{model.Knowledge.Sheet.Status}?",
            new Remedy.SwitchInstrument($"status {model.Knowledge.Sheet.Status}"),
            Pattern(d => [.. d.Cells.Select(c => c.Channel).Distinct().SelectMany(
                c => new[] { Only(d, c, cell => StatusSlope * model.AimOf(cell)), Only(d, c, _ => StatusOffset) })]));
    }

    /// <summary>The zero drifts from the first patch to the last.</summary>
    public IEnumerable<Hypothesis> Drifting()
    {
        var last = model.Patches.Length - 1;
        // Of fewer patches every drift is a fault of the process too.
        if (last >= LeastToDrift)
        {
            yield return new Hypothesis(
                "zero drift",
                SuspicionKind.ZeroDrift,
                DriftPrior,
                [.. model.Slots],
                "The patches are off by more the later they stand on the strip, all colours alike: the zero drifts. Let the instrument "
                + "warm up, set the zero and read the strip again?",
                new Remedy.CheckZero(),
                Pattern(d => [[.. d.Cells.Select(c => DriftSize * c.Slot / last)]]));
        }
    }

    private static double[] Only(StripData data, Channel channel, Func<DataCell, double> size) =>
        [.. data.Cells.Select(c => c.Channel == channel ? size(c) : 0)];

    private Func<StripData, Explanation?> Pattern(Func<StripData, ImmutableArray<double[]>> errors) => data =>
        Explanation.Reads(data, model, cell => cell) is { } plain ? plain with { Errors = errors(data) } : null;
}

/// <summary>The densities stand in the wrong channels.</summary>
internal sealed class ChannelHypotheses(StripModel model)
{
    private const double SwapPrior = 0.003;
    private const double SwapOfOnePrior = 0.001;
    private const double VisualPrior = 0.002;

    // What the visual response makes of the three colours, within some hundredths: ISO 5-3 visual weighs green most; rough, from memory.
    private static readonly (Channel Channel, double Weight)[] VisualParts = [
        (Channel.Red, 0.30), (Channel.Green, 0.60), (Channel.Blue, 0.10)];
    private const double VisualOffset = 0.04;
    private const double VisualSlope = 0.05;
    private const double VisualOwn = 0.02;

    private static readonly ImmutableArray<ImmutableArray<Channel>> Orders =
    [
        [Channel.Red, Channel.Blue, Channel.Green],
        [Channel.Green, Channel.Red, Channel.Blue],
        [Channel.Blue, Channel.Green, Channel.Red],
        [Channel.Green, Channel.Blue, Channel.Red],
        [Channel.Blue, Channel.Red, Channel.Green],
    ];

    /// <summary>All patches read so far have their colours exchanged.</summary>
    public IEnumerable<Hypothesis> Swaps(StripData data) =>
        Colours ? Orders.Select((o, i) => Swap($"swap {i}", data.Slots, o, SwapPrior / Orders.Length)) : [];

    /// <summary>One patch only has them exchanged, as when it was typed.</summary>
    public IEnumerable<Hypothesis> SwapsOf(int slot) =>
        Colours ? Orders.Select((o, i) => Swap($"swap {i} of {slot}", [slot], o, SwapOfOnePrior / Orders.Length)) : [];

    /// <summary>What is sent as red is the visual density.</summary>
    public IEnumerable<Hypothesis> Visual(StripData data)
    {
        if (!Colours)
        {
            yield break;
        }

        yield return new Hypothesis(
            "visual", SuspicionKind.VisualForRed, VisualPrior, data.Slots,
            "The red values look like visual densities. Set the instrument to send red, green and blue, and read the strip again?",
            new Remedy.SwitchInstrument("red, green and blue instead of visual"),
            d => Explanation.Sums(d, model, cell => cell.Channel == Channel.Red
                    ? VisualParts.Select(p => (cell with { Channel = p.Channel }, p.Weight))
                    : [(cell, 1)]) is { } plain
                ? plain with { Errors = [
                    Red(d, _ => VisualOffset), Red(d, c => VisualSlope * model.AimOf(c with { Channel = Channel.Green })), .. Own(d)] }
                : null);
    }

    private bool Colours => Channels.Colours.All(model.Knowledge.Sheet.ChannelsNeeded.Contains);

    private static double[] Red(StripData data, Func<DataCell, double> size) =>
        [.. data.Cells.Select(c => c.Channel == Channel.Red ? size(c) : 0)];

    private static IEnumerable<double[]> Own(StripData data) => data.Cells
        .Select((c, i) => (c, i))
        .Where(c => c.c.Channel == Channel.Red)
        .Select(c => data.Cells.Select((_, i) => i == c.i ? VisualOwn : 0.0).ToArray());

    // order[i] is the colour that truly stands in the i-th channel.
    private Hypothesis Swap(string id, ImmutableArray<int> slots, ImmutableArray<Channel> order, double prior)
    {
        var moves = Channels.Colours.Select((shown, i) => new ChannelMove(shown, order[i])).ToImmutableArray();
        var truth = moves.ToDictionary(m => m.From, m => m.To);
        var where = slots.Length == 1 ? model.Patches[slots[0]].Name : "this strip";
        return new Hypothesis(
            id,
            SuspicionKind.SwappedChannels,
            prior,
            slots,
            $"The colours of {where} look exchanged: "
            + $"{string.Join(", ", moves.Where(m => m.From != m.To).Select(m => $"{m.To.Word()} stands in {m.From.Word()}"))}. "
            + "Exchange them?",
            new Remedy.ExchangeChannels([.. slots.Select(s => model.Patches[s].Key)], [.. moves.Where(m => m.From != m.To)]),
            data => Explanation.Reads(data, model, cell => slots.Contains(cell.Slot) && truth.TryGetValue(cell.Channel, out var c)
                ? cell with { Channel = c }
                : cell));
    }
}
