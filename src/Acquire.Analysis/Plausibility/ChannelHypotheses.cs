namespace Acquire.Analysis.Plausibility;

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
            "visual",
            SuspicionKind.VisualForRed,
            VisualPrior,
            data.Slots,
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
