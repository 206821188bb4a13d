using Acquire.Rendering.Charts;
using Acquire.Rendering.Report;
using Acquire.Web.Api;
using Acquire.Web.Hosting;
using Microsoft.Extensions.Hosting;

namespace Acquire.Commands.Service;

/// <summary><c>acquire serve</c>: the service that owns the ports, keeps every reading and answers every face.</summary>
internal static class ServeCommand
{
    internal static readonly ServiceDrawings Drawings = new(
        (model, width) => ChartSvg.Of(model, width), ChartSvg.UsualWidth, ChartSvg.LeastWidth, ChartSvg.LargestWidth, ReportHtml.Of);

    public static Command Build(Surroundings surroundings)
    {
        var listen = new ListenOptions();
        var command = new Command("serve", "Run the service: it reads the instruments and leads sessions, whoever watches them.")
        {
            CertCommand.Build(surroundings),
            EnterCommand.Build(surroundings),
        };
        listen.AddTo(command);
        command.SetAction((parsed, cancellationToken) => RunAsync(parsed, surroundings, listen, cancellationToken));
        return command;
    }

    private static async Task<int> RunAsync(
        ParseResult parsed, Surroundings surroundings, ListenOptions listen, CancellationToken cancellationToken)
    {
        var folder = Path.GetFullPath(DataFolder.Resolve(parsed.GetValue(Common.Data)));
        await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
        using var held = await ServiceLock.TakeAsync(folder, surroundings.Time, cancellationToken);
        using var logs = Common.Logs(parsed);
        var token = ServiceFile.NewToken();
        var ground = new ServiceGround(
            store, Common.Links(parsed, surroundings, logs), surroundings.Time, logs, surroundings.User, Drawings);
        await using var app = ServiceHost.Build(options => listen.Apply(parsed, options), folder, token, ground);
        await app.StartAsync(cancellationToken);
        ServiceHost.FileOf(app, token).Write(folder);
        try
        {
            foreach (var url in ServiceHost.UrlsOf(app))
            {
                surroundings.Out.Line($"Listening on {url}");
            }

            surroundings.Out.Line($"Open {ServiceHost.EntryOf(app)}");
            await app.WaitForShutdownAsync(cancellationToken);
        }
        finally
        {
            ServiceFile.Remove(folder);
        }

        return ExitCode.Done;
    }
}
