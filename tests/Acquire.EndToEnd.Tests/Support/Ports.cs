using System.Text;

namespace Acquire.EndToEnd.Tests.Support;

/// <summary>Instruments on pseudo-terminals, played by a script that shares no code with the program under test.</summary>
internal sealed class Ports : IAsyncDisposable
{
    private readonly RunningProgram _script;
    private readonly string _folder;
    private int _told;

    private Ports(RunningProgram script, string folder) => (_script, _folder) = (script, folder);

    public static Ports In(string folder)
    {
        Tools.Require("python3");
        var script = RunningProgram.Start(
            "python3", [Path.Combine(AppContext.BaseDirectory, "Scripts", "instruments.py")], folder, typed: true);
        return new Ports(script, folder);
    }

    /// <summary>Where the port of an instrument is or would be.</summary>
    public string PathOf(string name) => Path.Combine(_folder, $"port-{name}");

    /// <summary>Plugs an instrument in, perhaps again under the same name, and gives its port.</summary>
    public async Task<string> PlugAsync(string name)
    {
        await TellAsync($"plug {name} {PathOf(name)}");
        return PathOf(name);
    }

    public Task UnplugAsync(string name) => TellAsync($"unplug {name}");

    /// <summary>Sends lines, each with its end; a text that is to be cut in the middle goes with <see cref="SendRawAsync"/>.</summary>
    public Task SendAsync(string name, params IEnumerable<string> lines) =>
        SendRawAsync(name, string.Concat(lines.Select(l => l + "\r\n")));

    public Task SendRawAsync(string name, string text) => TellAsync($"send {name} {Convert.ToHexString(Encoding.Latin1.GetBytes(text))}");

    public Task FloodAsync(string name, string text) => TellAsync($"flood {name} {Convert.ToHexString(Encoding.Latin1.GetBytes(text))}");

    public Task CalmAsync(string name) => TellAsync($"calm {name}");

    public ValueTask DisposeAsync() => _script.DisposeAsync();

    private async Task TellAsync(string what)
    {
        await _script.TypeAsync(what);
        var told = ++_told;
        await _script.UntilAsync(() => _script.Out.Count(c => c == '\n') >= told, $"an answer to '{what}'");
    }
}
