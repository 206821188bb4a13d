using System.Text.Json;
using Acquire.Hosting;

namespace Acquire.Tests.Support;

/// <summary>The command line with its streams in memory and a data folder of its own.</summary>
internal sealed class InMemory : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-commands-").FullName;
    private bool _hasRun;

    public string Folder => _folder;

    public TimeProvider Time { get; set; } = TimeProvider.System;

    /// <summary>Whether the first command finds an empty store and need not make it.</summary>
    public bool BeginsWithStore { get; init; } = true;

    public async Task<(int Code, string Out, string Error)> RunAsync(params IEnumerable<string> arguments)
    {
        if (!_hasRun && BeginsWithStore)
        {
            await EmptyStore.PutAsync(_folder);
        }

        _hasRun = true;
        using var output = new StringWriter();
        using var error = new StringWriter();
        var surroundings = new Surroundings(
            Time, Surroundings.Make(output, redirected: true), Surroundings.Make(error, redirected: true), HasKeyboard: false, "staff");
        var code = await Application.RunAsync([.. arguments, "--data", _folder], surroundings);
        return (code, output.ToString(), error.ToString());
    }

    public async Task<JsonElement> JsonAsync(params IEnumerable<string> arguments)
    {
        var (code, output, error) = await RunAsync([.. arguments, "--json"]);
        Assert.True(code == 0, error);
        return JsonDocument.Parse(output).RootElement;
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
