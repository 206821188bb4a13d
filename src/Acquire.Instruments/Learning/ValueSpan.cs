namespace Acquire.Instruments.Learning;

/// <summary>A place on a line where something like a density stands.</summary>
/// <param name="Start">The first character, sign included.</param>
/// <param name="Length">Characters, sign included.</param>
/// <param name="Value">The value.</param>
internal readonly record struct ValueSpan(int Start, int Length, decimal Value)
{
    public int End => Start + Length;

    public string In(string line) => line.Substring(Start, Length);
}
