namespace Acquire.EndToEnd.Tests.Support;

/// <summary>Two pseudo-terminals joined by socat: the program under test on one end, a script on the other.</summary>
internal sealed class SerialCable : IAsyncDisposable
{
    private readonly RunningProgram _socat;

    private SerialCable(RunningProgram socat, string near, string far) => (_socat, Near, Far) = (socat, near, far);

    /// <summary>The program's end.</summary>
    public string Near { get; }

    /// <summary>The instrument's end.</summary>
    public string Far { get; }

    public static async Task<SerialCable> LayAsync(string folder, string options = "")
    {
        Tools.Require("socat", "python3");
        var (near, far) = (Path.Combine(folder, "near"), Path.Combine(folder, "far"));
        var socat = RunningProgram.Start("socat", [$"PTY,raw,echo=0,link={near}{options}", $"PTY,raw,echo=0,link={far}"]);
        await socat.UntilAsync(() => File.Exists(near) && File.Exists(far), "both ends of the cable");
        return new SerialCable(socat, near, far);
    }

    /// <summary>Lets the scripted instrument send bytes, cut at random places; returns when it has sent them all.</summary>
    public async Task SendAsync(byte[] bytes, int seed)
    {
        var file = Path.Combine(Path.GetDirectoryName(Far)!, $"script-{Guid.NewGuid():N}.bin");
        await File.WriteAllBytesAsync(file, bytes, TestContext.Current.CancellationToken);
        await using var script = RunningProgram.Start(
            "python3", [Path.Combine(AppContext.BaseDirectory, "Scripts", "scripted_instrument.py"), Far, file, $"{seed}"]);
        Assert.True(await script.ExitAsync() == 0, script.Error);
    }

    /// <summary>Sends bytes as fast as they go.</summary>
    public async Task FloodAsync(byte[] bytes)
    {
        await using var end = new FileStream(Far, FileMode.Open, FileAccess.Write, FileShare.ReadWrite, bufferSize: 0);
        await end.WriteAsync(bytes, TestContext.Current.CancellationToken);
    }

    /// <summary>Pulls the cable out; the names of its ends are gone with it, and another cable may be laid under them.</summary>
    public async ValueTask PullAsync()
    {
        await _socat.DisposeAsync();
        File.Delete(Near);
        File.Delete(Far);
    }

    public ValueTask DisposeAsync() => _socat.DisposeAsync();
}
