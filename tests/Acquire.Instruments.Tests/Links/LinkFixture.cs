using System.Text;
using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;

namespace Acquire.Instruments.Tests.Links;

/// <summary>A pseudo-terminal, an opener with a lock folder of its own, and reading to an end.</summary>
internal sealed class LinkFixture : IAsyncDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("links-");

    public LinkFixture(TimeProvider? time = null)
    {
        Assert.SkipUnless(PseudoTerminal.IsSupported, "There are no pseudo-terminals on this system.");
        Terminal = PseudoTerminal.Open(TimeProvider.System, Path.Combine(_folder.FullName, "densitometer"));
        Options = new LinkOpenerOptions { Command = "acquire read", LockFolder = Path.Combine(_folder.FullName, "locks") };
        Opener = new LinkOpener(time ?? TimeProvider.System, Options);
    }

    public PseudoTerminal Terminal { get; }

    public LinkOpenerOptions Options { get; }

    public LinkOpener Opener { get; }

    public string Folder => _folder.FullName;

    public static CancellationToken Token => TestContext.Current.CancellationToken;

    public ValueTask<IByteLink> OpenAsync(LinkSettings? settings = null) =>
        Opener.OpenAsync(Terminal.Address, settings ?? new LinkSettings(), Token);

    public ValueTask SendAsync(string text) => Terminal.WriteAsync(Encoding.Latin1.GetBytes(text), Token);

    public static async Task<string> ReadAsync(IByteLink link, int length)
    {
        var buffer = new byte[length];
        var count = 0;
        while (count < length)
        {
            count += await link.ReadAsync(buffer.AsMemory(count), Token);
        }

        return Encoding.Latin1.GetString(buffer);
    }

    public static async Task<LinkException> FaultOfReadAsync(IByteLink link) =>
        await Assert.ThrowsAsync<LinkException>(async () => await link.ReadAsync(new byte[16], Token));

    public async ValueTask DisposeAsync()
    {
        await Terminal.DisposeAsync();
        _folder.Delete(recursive: true);
    }
}
