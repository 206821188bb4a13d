namespace TruthBenchmark.World;

/// <summary>A lot of control strips as it truly is. No two lots are alike, and no two strips of a lot quite.</summary>
/// <param name="OnAim">Densities of its mean strip from a process on aim.</param>
/// <param name="Shared">Strip-to-strip scatter of making, common to a strip's patches: exposure and coating. Standard deviation.</param>
/// <param name="Own">Strip-to-strip scatter of each patch by itself, alike in its three colours. Standard deviation.</param>
internal sealed record Emulsion(Cells OnAim, double Shared, double Own)
{
    // Usual bands of a masked colour negative, status M (from memory, with one published example inside each).
    private static readonly double[][] From = [
        [0.22, 0.58, 0.72], [0.42, 0.77, 0.97], [1.10, 1.50, 1.85], [1.95, 2.35, 2.75], [0.31, 0.78, 0]];
    private static readonly double[][] To = [
        [0.31, 0.67, 0.90], [0.54, 0.92, 1.16], [1.33, 1.76, 2.10], [2.35, 2.80, 3.15], [0.44, 0.97, 0]];

    public static Emulsion Draw(Dice dice)
    {
        // Speed and contrast of a coating move its colours together, so one draw places a patch and a small one each colour.
        var place = Enumerable.Range(0, Cells.Patches).Select(_ => dice.Unit()).ToArray();
        var onAim = Cells.Of((p, c) =>
            From[p][c] + ((To[p][c] - From[p][c]) * Math.Clamp(place[p] + dice.Between(-0.2, 0.2), 0, 1)));
        var yellow = onAim[Cells.DMax, Cells.Blue] - dice.Between(0.10, 0.30);
        return new Emulsion(onAim.With(Cells.Yellow, Cells.Blue, yellow), dice.Between(0.001, 0.003), dice.Between(0.001, 0.003));
    }

    /// <summary>A strip as made, before anything is done to it: what it would read from a process on aim.</summary>
    public Cells Strip(Dice dice)
    {
        var shared = Shared * dice.Bell();
        var own = Enumerable.Range(0, Cells.Patches).Select(_ => Own * dice.Bell()).ToArray();
        return OnAim + Cells.Of((p, _) => p == Cells.DMin ? own[p] / 2 : shared + own[p]);
    }
}
