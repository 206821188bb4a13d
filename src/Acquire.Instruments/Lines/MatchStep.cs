namespace Acquire.Instruments.Lines;

/// <summary>One step of a compiled template: takes its part of the line and moves on, or notes the misfit. Nothing goes back.</summary>
internal abstract class MatchStep
{
    /// <summary>Whether the step was taken; if not, the misfit is noted in <paramref name="match"/>.</summary>
    public abstract bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match);

    protected static bool IsBlank(byte b) => b is (byte)' ' or (byte)'\t';

    /// <summary>The part of the line that a place of fixed width covers, or nothing when the line is too short.</summary>
    protected static bool TryField(ReadOnlySpan<byte> line, int at, int width, out ReadOnlySpan<byte> field)
    {
        var enough = line.Length - at >= width;
        field = enough ? line.Slice(at, width) : default;
        return enough;
    }
}
