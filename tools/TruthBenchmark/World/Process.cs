namespace TruthBenchmark.World;

/// <summary>
/// A process with a memory: what moves one run is still partly there in the next. The film's whole scale moves together, the dense patches
/// most; each colour has a part of its own, and each strip one that no colour shares.
/// </summary>
/// <param name="Scatter">Standard deviation at LD of what moves a run, over a long time.</param>
/// <param name="Memory">Correlation of one run with the next; 0 for none.</param>
internal sealed record Process(double Scatter, double Memory)
{
    // How much each patch takes part; nobody's published numbers.
    private static readonly double[] Part = [0.15, 1, 1.65, 1.35, 1.1];
    private const double ColourShare = 0.35;
    private const double CellShare = 0.3;

    /// <summary>What the process does to strips, one after another.</summary>
    public IEnumerable<Cells> Strips(Dice dice, int count)
    {
        var state = Enumerable.Range(0, 1 + Cells.Colours).Select(_ => dice.Bell()).ToArray();
        for (var i = 0; i < count; i++)
        {
            for (var k = 0; k < state.Length; k++)
            {
                state[k] = (Memory * state[k]) + (Math.Sqrt(1 - (Memory * Memory)) * dice.Bell());
            }

            yield return Cells.Of((p, c) => Scatter * ((Part[p] * (state[0] + (ColourShare * state[1 + c])))
                + (CellShare * (p == Cells.DMin ? 0.5 : 1) * dice.Bell())));
        }
    }
}
