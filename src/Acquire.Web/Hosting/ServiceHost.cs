using System.ComponentModel.DataAnnotations;
using Acquire.Bench.Files;
using Acquire.Bench.Instruments;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Service;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Web.Api;
using Acquire.Web.Documents;
using Acquire.Web.Security;
using Acquire.Web.Security.Tokens;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Options;

namespace Acquire.Web.Hosting;

/// <summary>What the service stands on: opened by whoever starts it, and closed by them afterwards.</summary>
/// <param name="Store">The store, open.</param>
/// <param name="Links">Opens the ports.</param>
/// <param name="User">Who started it.</param>
/// <param name="Drawings">What draws for people.</param>
public sealed record ServiceGround(
    AcquireStore Store, ILinkOpener Links, TimeProvider Time, ILoggerFactory Logs, string User, ServiceDrawings Drawings);

/// <summary>The service: the instruments' own loops, the sessions, and the API in front of them, in one host.</summary>
public static class ServiceHost
{
    /// <summary>Puts the service together; nothing runs yet.</summary>
    /// <param name="options">What the command line says; files and the environment fill in the rest.</param>
    /// <exception cref="BenchException">A setting is out of bounds.</exception>
    public static WebApplication Build(Action<ServiceOptions> options, string dataFolder, string token, ServiceGround ground)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        builder.Configuration.Sources.Clear();
        builder.Configuration
            .AddEnvironmentVariables("ACQUIRE_")
            .AddJsonFile(Path.Combine(dataFolder, "service-settings.json"), optional: true, reloadOnChange: false);
        builder.Services
            .AddOptions<ServiceOptions>()
            .BindConfiguration(ServiceOptions.Section)
            .Configure(o => o.DataFolder = dataFolder)
            .Configure(options)
            .ValidateDataAnnotations()
            .ValidateOnStart();
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton(ground.Logs);
        builder.Services.AddSystemService();
        builder.Services.AddHealth();
        builder.AddMeters();
        AddBench(builder.Services, dataFolder, ground);
        AddWeb(builder);
        var settings = Settings(builder, options, dataFolder);
        var points = ListenPoint.Of(settings, ground.Time);
        AddSecurity(builder, settings, points, token, ground.User);

        var app = builder.Build();
        app.UseWhoMay();
        app.MapHealth();
        app.MapPage();
        app.MapOpenApi("/openapi/v1.json").WithRoles();
        app.MapApi();
        return app;
    }

    /// <summary>Where it listens for this computer's programs, once it does.</summary>
    public static string UrlOf(WebApplication app) => UrlsOf(app)[0];

    /// <summary>Every URL at which it listens, once it does, that of <see cref="UrlOf"/> first.</summary>
    public static ImmutableArray<string> UrlsOf(WebApplication app) =>
    [
        .. app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses
            .Where(a => !a.StartsWith("http://unix:", StringComparison.Ordinal)),
    ];

    /// <summary>What tells others where it is, once it listens.</summary>
    public static ServiceFile FileOf(WebApplication app, string token)
    {
        var socket = ListenPoint.SocketIn(app.Services.GetRequiredService<SecuritySettings>().DataFolder);
        return new ServiceFile(UrlOf(app), token, Environment.ProcessId, socket);
    }

    /// <summary>An address that lets a browser in once, in the name of whoever runs the service.</summary>
    public static string EntryOf(WebApplication app)
    {
        var user = app.Services.GetRequiredService<SecuritySettings>().User;
        var code = app.Services.GetRequiredService<EntryCodes>()
            .Make(Roles.Principal(user, TokenRole.Operate, token: null, PageSignIn.Scheme));
        return $"{UrlOf(app)}/enter/{code}";
    }

    /// <summary>The settings before anything is built of them, with their bounds proved: where to listen is settled then.</summary>
    private static ServiceOptions Settings(WebApplicationBuilder builder, Action<ServiceOptions> given, string dataFolder)
    {
        var options = new ServiceOptions();
        builder.Configuration.GetSection(ServiceOptions.Section).Bind(options);
        options.DataFolder = dataFolder;
        given(options);
        var faults = new List<ValidationResult>();
        return Validator.TryValidateObject(options, new ValidationContext(options), faults, validateAllProperties: true)
            ? options
            : throw new BenchException(string.Join(' ', faults.Select(f => f.ErrorMessage)));
    }

    private static void AddSecurity(
        WebApplicationBuilder builder, ServiceOptions options, ImmutableArray<ListenPoint> points, string token, string user)
    {
        var settings = new SecuritySettings(
            options.DataFolder,
            user,
            token,
            [.. options.Hosts.Concat(points.SelectMany(p => p.Certificate?.Names ?? []))],
            options.MostRequestBytes,
            TimeSpan.FromSeconds(options.SecondsForHeaders),
            options.MostRequestsInTenSeconds,
            options.MostEventStreams);
        builder.Services.AddWhoMay(settings);
        builder.WebHost.UseKestrelCore();
        builder.WebHost.UseKestrelHttpsConfiguration();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            Limits.Set(kestrel.Limits, settings);
            foreach (var point in points)
            {
                point.Bind(kestrel);
            }
        });
    }

    private static void AddBench(IServiceCollection services, string dataFolder, ServiceGround ground)
    {
        services.AddSingleton(ground.Store);
        services.AddSingleton(ground.Links);
        services.AddSingleton(ground.Time);
        services.AddSingleton(new ProfileLibrary(DataFolder.Profiles(dataFolder)));
        services.AddSingleton(new ProcessLibrary(DataFolder.Processes(dataFolder)));
        services.AddSingleton(ground.Drawings);
        services.AddDesks(dataFolder);
        services.AddSingleton<SessionBook>();
        services.AddSingleton(parts => new BenchService(
            parts.GetRequiredService<AcquireStore>(),
            parts.GetRequiredService<LotBook>(),
            parts.GetRequiredService<InstrumentBook>(),
            parts.GetRequiredService<ILinkOpener>(),
            parts.GetRequiredService<TimeProvider>(),
            parts.GetRequiredService<ILoggerFactory>(),
            parts.GetRequiredService<BenchMeters>(),
            parts.GetRequiredService<StationBoard>(),
            TimeSpan.FromMinutes(parts.GetRequiredService<IOptions<ServiceOptions>>().Value.LooseMinutes)));
        services.AddHostedService<Acquisition>();
    }

    private static void AddWeb(WebApplicationBuilder builder)
    {
        builder.Services.AddSingleton<IProblemDetailsWriter, ProblemWriter>();
        builder.Services.AddProblemDetails();
        builder.Services.AddExceptionHandler<ProblemHandler>();
        builder.Services.Configure<RouteHandlerOptions>(routes => routes.ThrowOnBadRequest = true);
        builder.Services.AddDescription();
        builder.Services.ConfigureHttpJsonOptions(json => DocumentText.ForRequests(json.SerializerOptions));
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = TimeSpan.FromSeconds(2));
    }
}
