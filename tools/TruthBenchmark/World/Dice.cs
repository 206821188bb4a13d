namespace TruthBenchmark.World;

/// <summary>
/// Chance of the world's own: it shares neither generator nor distributions with the product. One for each cell of work, so that the
/// figures are the same however many run at once. (xoshiro256**, seeded by SplitMix64: Blackman and Vigna 2018, from memory.)
/// </summary>
internal sealed class Dice
{
    private const double Coarse = 0.07;
    private const double Coarser = 2.0;
    private static readonly double Fine = 1 / Math.Sqrt(1 - Coarse + (Coarse * Coarser * Coarser));
    private readonly ulong[] _state = new ulong[4];
    private double? _spare;

    public Dice(params ReadOnlySpan<long> cell)
    {
        var mixed = 0x9E3779B97F4A7C15UL;
        foreach (var part in cell)
        {
            mixed = Mix(mixed ^ (ulong)part);
        }

        for (var i = 0; i < _state.Length; i++)
        {
            _state[i] = mixed = Mix(mixed);
        }
    }

    /// <summary>Evenly between 0 and 1, neither included.</summary>
    public double Unit() => ((Next() >> 11) + 0.5) / (1UL << 53);

    public double Between(double low, double high) => low + ((high - low) * Unit());

    /// <summary>Evenly on a logarithmic scale: as often between 1 and 2 as between 2 and 4.</summary>
    public double Times(double low, double high) => Math.Exp(Between(Math.Log(low), Math.Log(high)));

    public int Below(int count) => (int)(Unit() * count);

    public bool Happens(double share) => Unit() < share;

    public double Sign() => Happens(0.5) ? 1 : -1;

    public T Pick<T>(IReadOnlyList<T> among) => among[Below(among.Count)];

    /// <summary>A bell curve of standard deviation 1.</summary>
    public double Bell()
    {
        if (_spare is { } kept)
        {
            _spare = null;
            return kept;
        }

        double x, y, square;
        do
        {
            (x, y) = (Between(-1, 1), Between(-1, 1));
            square = (x * x) + (y * y);
        }
        while (square is >= 1 or 0);
        var length = Math.Sqrt(-2 * Math.Log(square) / square);
        _spare = y * length;
        return x * length;
    }

    /// <summary>
    /// Standard deviation 1 with tails somewhat heavier than the bell's: one in fourteen is twice as coarse, as at a bench.
    /// </summary>
    public double Heavy() => Fine * (Happens(Coarse) ? Coarser : 1) * Bell();

    private static ulong Mix(ulong value)
    {
        value += 0x9E3779B97F4A7C15UL;
        value = (value ^ (value >> 30)) * 0xBF58476D1CE4E5B9UL;
        value = (value ^ (value >> 27)) * 0x94D049BB133111EBUL;
        return value ^ (value >> 31);
    }

    private ulong Next()
    {
        var result = ulong.RotateLeft(_state[1] * 5, 7) * 9;
        var shifted = _state[1] << 17;
        _state[2] ^= _state[0];
        _state[3] ^= _state[1];
        _state[1] ^= _state[2];
        _state[0] ^= _state[3];
        _state[2] ^= shifted;
        _state[3] = ulong.RotateLeft(_state[3], 45);
        return result;
    }
}
