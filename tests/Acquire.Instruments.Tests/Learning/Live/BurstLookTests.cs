using System.Numerics;
using System.Text;
using Acquire.Instruments.Learning;

namespace Acquire.Instruments.Tests.Learning.Live;

/// <summary>Formats are invented; the variations are common practice of serial instruments, no source.</summary>
public class BurstLookTests
{
    private static readonly Gen<string> Reading =
        Gen.Select(Gen.Int[0, 499].Array[3], Gen.OneOf(
            Gen.Const("R {0} G {1} B {2}"),
            Gen.Const("{0} {1} {2}"),
            Gen.Const("B={2};G={1};R={0}"),
            Gen.Const("No. 4  {0}  {1}  {2}")), Gen.OneOf(Gen.Const("\r\n"), Gen.Const("\r"), Gen.Const("\n"), Gen.Const("")))
            .Select((v, shape, end) =>
                string.Format(null, shape, [.. v.Select(d => FormattableString.Invariant($"{d / 100}.{d % 100:00}"))]) + end);

    [Fact]
    public void Readings_are_clear_with_any_parity() =>
        Gen.Select(Reading, Gen.Int[0, 3]).Sample((text, parity) =>
            Assert.Equal(BurstVerdict.Clear, BurstLook.At([.. Encoding.ASCII.GetBytes(text).Select(b => WithTopBit(b, parity))]).Verdict));

    [Fact]
    public void Random_bytes_are_never_clear() =>
        Gen.Byte.Array[12, 400].Sample(bytes => Assert.NotEqual(BurstVerdict.Clear, BurstLook.At(bytes).Verdict));

    [Fact]
    public void One_damaged_byte_never_makes_it_garbled() =>
        Gen.Select(Reading, Gen.Int[0, 1000], Gen.Byte, Gen.Int[0, 2]).Sample((text, at, damage, parity) =>
        {
            byte[] bytes = [.. Encoding.ASCII.GetBytes(text).Select(b => WithTopBit(b, parity))];
            bytes[at % bytes.Length] = damage;
            var look = BurstLook.At(bytes);
            Assert.True(look.Verdict is BurstVerdict.Clear or BurstVerdict.Nearly, $"{look}");
        });

    [Fact]
    public void Shares_stay_between_none_and_all() => Gen.Byte.Array[0, 100].Sample(bytes =>
    {
        var look = BurstLook.At(bytes);
        Assert.Equal(bytes.Length == 0, look.Verdict == BurstVerdict.Silent);
        Assert.InRange(look.TextShare, 0, 1);
        Assert.InRange(look.BareShare, 0, 1);
    });

    [Theory]
    [InlineData("STATUS M READY\r\n", nameof(BurstVerdict.Garbled))]
    [InlineData("\0\0", nameof(BurstVerdict.Garbled))]
    [InlineData("HI\r\n", nameof(BurstVerdict.Garbled))]
    [InlineData("\u00020.26\u0003", nameof(BurstVerdict.Clear))]
    [InlineData("26 62\0", nameof(BurstVerdict.Clear))]
    [InlineData("0.26\u00B1\r\n0.62\u00B1\r\n0.80\u00B1\r\n", nameof(BurstVerdict.Nearly))]
    public void Text_counts_when_it_holds_numbers(string text, string verdict) =>
        Assert.Equal(verdict, BurstLook.At(Encoding.Latin1.GetBytes(text)).Verdict.ToString());

    private static byte WithTopBit(byte b, int parity) => (byte)(b | parity switch
    {
        0 => 0,
        1 => (BitOperations.PopCount(b) & 1) << 7,
        2 => ((BitOperations.PopCount(b) & 1) ^ 1) << 7,
        _ => 0x80,
    });
}
