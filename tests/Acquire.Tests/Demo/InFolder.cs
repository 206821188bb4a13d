using System.Text.Json;
using Acquire.Hosting;

namespace Acquire.Tests.Demo;

/// <summary>The command line on a data folder that is there already.</summary>
internal sealed class InFolder(TimeProvider time, string folder) : IDisposable
{
    private readonly StringWriter _output = new();
    private readonly StringWriter _error = new();

    public async Task<(int Code, string Out, string Error)> RunAsync(params IEnumerable<string> arguments)
    {
        _ = _output.GetStringBuilder().Clear();
        _ = _error.GetStringBuilder().Clear();
        var surroundings = new Surroundings(
            time, Surroundings.Make(_output, redirected: true), Surroundings.Make(_error, redirected: true), HasKeyboard: false, "staff");
        var code = await Application.RunAsync([.. arguments, "--data", folder], surroundings);
        return (code, _output.ToString(), _error.ToString());
    }

    public async Task<JsonElement> JsonAsync(params IEnumerable<string> arguments)
    {
        var (code, output, error) = await RunAsync([.. arguments, "--json"]);
        Assert.True(code == 0, error);
        return JsonDocument.Parse(output).RootElement;
    }

    public void Dispose()
    {
        _output.Dispose();
        _error.Dispose();
    }
}
