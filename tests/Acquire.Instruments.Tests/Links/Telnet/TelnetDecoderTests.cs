using Acquire.Instruments.Links;

namespace Acquire.Instruments.Tests.Links.Telnet;

public sealed class TelnetDecoderTests
{
    /// <summary>The bytes are laid down in RFC 854 (IAC doubled, verbs) and RFC 855 (parameters).</summary>
    [Theory]
    [Trait("Source", "RFC 854, RFC 855")]
    [InlineData(new byte[] { 65, 255, 255, 66 }, new byte[] { 65, 255, 66 }, "")]
    [InlineData(new byte[] { 65, 255, 253, 44, 66 }, new byte[] { 65, 66 }, "253:44")]
    [InlineData(new byte[] { 255, 251, 1, 255, 252, 3 }, new byte[] { }, "251:1 252:3")]
    [InlineData(new byte[] { 255, 250, 44, 101, 0, 0, 255, 255, 128, 255, 240, 66 }, new byte[] { 66 }, "44=650000FF80")]
    [InlineData(new byte[] { 65, 255, 241, 66 }, new byte[] { 65, 66 }, "")]
    [InlineData(new byte[] { 255, 250, 44, 107, 255, 251, 1, 66 }, new byte[] { 66 }, "44=6B 251:1")]
    public void Data_and_messages_are_told_apart_wherever_the_stream_is_cut(byte[] stream, byte[] data, string messages)
    {
        for (var cut = 0; cut <= stream.Length; cut++)
        {
            var (seen, said) = Decode(stream[..cut], stream[cut..]);
            Assert.Equal(data, seen);
            Assert.Equal(messages, said);
        }
    }

    [Fact]
    public void Escaped_data_comes_back_whatever_it_is_and_however_it_is_cut() =>
        Gen.Select(Gen.OneOf(Gen.Byte, Gen.Const((byte)255)).Array[0, 60], Gen.Int[0, 120]).Sample((data, at) =>
        {
            var sent = TelnetEncoder.Data(data).ToArray();
            var cut = Math.Min(at, sent.Length);
            var (seen, said) = Decode(sent[..cut], sent[cut..]);
            Assert.Equal(data, seen);
            Assert.Empty(said);
        });

    [Fact]
    public void Parameters_come_back_with_their_0xFF_and_whatever_is_around_them() =>
        Gen.OneOf(Gen.Byte, Gen.Const((byte)255)).Array[1, 30].Sample(parameters =>
        {
            var (seen, said) = Decode("R "u8.ToArray(), [.. TelnetEncoder.Parameters(44, parameters), .. "0.26"u8]);
            Assert.Equal("R 0.26"u8.ToArray(), seen);
            Assert.Equal($"44={Convert.ToHexString(parameters)}", said);
        });

    [Fact]
    public void Noise_is_decoded_without_end_and_without_growing() => Gen.Byte.Array[0, 2000].Sample(noise =>
    {
        var (seen, _) = Decode(noise);
        Assert.True(seen.Length <= noise.Length);
    });

    private static (byte[] Data, string Messages) Decode(params byte[][] chunks)
    {
        var decoder = new TelnetDecoder();
        List<byte> data = [];
        List<TelnetMessage> messages = [];
        foreach (var chunk in chunks)
        {
            decoder.Push(chunk, data, messages);
        }

        return ([.. data], string.Join(' ', messages.Select(m => m switch
        {
            TelnetMessage.Option { Verb: var verb, Code: var code } => $"{verb}:{code}",
            TelnetMessage.Parameters { Code: var code, Bytes: var bytes } => $"{code}={Convert.ToHexString([.. bytes])}",
            _ => "?",
        })));
    }
}
