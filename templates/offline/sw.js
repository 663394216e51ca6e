// Installed by the browser; a new version of any kept file makes this text another one.
self.rinklog = { version: "{{ version }}", kept: [{% for address in kept %}"{{ address|escapejs }}", {% endfor %}"{% url 'no-signal' %}"], noSignal: "{% url 'no-signal' %}", hello: "{% url 'hello' %}" };
importScripts({% for part in parts %}"{{ part|escapejs }}"{% if not forloop.last %}, {% endif %}{% endfor %});
